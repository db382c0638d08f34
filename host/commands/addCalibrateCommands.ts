import { type Command, InvalidArgumentError, Option } from 'commander';
import { SPECIES } from '../../core/recording/index.ts';
import { runChooseTests, type Standing, type StandingOptions } from './calibrate/chooseTests.ts';
import { runListTests } from './calibrate/listTests.ts';
import { type PriceOptions, runPrice } from './calibrate/price.ts';
import { type ReadTestsOptions, runReadTests } from './calibrate/readTests.ts';
import { type DifferencesOptions, runDifferences, runRecompute } from './calibrate/recompute.ts';
import { addRelationOptions } from './calibrate/relationOptions.ts';
import { runTry, type TryOptions } from './calibrate/tryRelations.ts';
import {
  type PublishOptions,
  runExport,
  runImportCalibration,
  runListCalibrations,
  runPublish,
  runUse,
} from './calibrate/versions.ts';
import { parsePositive } from './parsePositive.ts';

const TWO_THIRDS = 2 / 3;
const DIFFERENCES_SHOWN = 50;
const MOST_DIFFERENCES = 1000;

/** Adds the commands of calibration. @param finish - takes the exit code */
export function addCalibrateCommands(program: Command, finish: (exitCode: number) => void): void {
  const calibrate = program
    .command('calibrate')
    .description('break tests, relations, published calibrations and what they change');
  addTestCommands(calibrate, finish);
  addRelationCommands(calibrate, finish);
  addVersionCommands(calibrate, finish);
  addRecomputeCommands(calibrate, finish);
}

function addTestCommands(calibrate: Command, finish: (exitCode: number) => void): void {
  calibrate
    .command('read')
    .description('read a table of break tests: what its columns are taken for, and what is refused')
    .argument('<workspace>')
    .argument('<table>', 'CSV file, one pole a row')
    .option('--keep', 'keep the tests in the workspace')
    .option(
      '--column <header=field:unit>',
      'what a column holds, where the proposal is wrong; header= passes it over; may be given again',
      addColumn,
      [],
    )
    .addOption(new Option('--decimal <mark>', 'decimal mark').choices(['.', ',']))
    .option(
      '--species <name=species>',
      'what a species of the table is that is not known here; may be given again',
      addSpecies,
      {},
    )
    .option(
      '--same-pole <test>',
      'link a test though table and visit differ; may be given again',
      (test: string, before: string[]) => [...before, test],
      [],
    )
    .addOption(alreadyOption())
    .option('--by <name>', 'who says so')
    .option('--json', 'one JSON object')
    .action(async (workspace: string, table: string, options: ReadTestsOptions) =>
      finish(await runReadTests(workspace, table, options)),
    );
  calibrate
    .command('tests')
    .description('print the kept break tests, with their numbers')
    .argument('<workspace>')
    .option('--json', 'one JSON object')
    .action(async (workspace: string, options: { json?: boolean }) =>
      finish(await runListTests(workspace, options)),
    );
  addStandingCommand(calibrate, 'set-aside', 'set aside', finish).description(
    'have no relation fitted to the tests of a table; nothing is deleted',
  );
  addStandingCommand(calibrate, 'take-up', 'in use', finish)
    .description('take up again what of a table is set aside')
    .addOption(alreadyOption());
}

function addStandingCommand(
  calibrate: Command,
  name: string,
  standing: Standing,
  finish: (exitCode: number) => void,
): Command {
  return calibrate
    .command(name)
    .argument('<workspace>')
    .argument('<set>', 'number of the table, as "calibrate tests" prints it', parseSet)
    .requiredOption('--by <name>', 'who says so')
    .option('--reason <text>', 'why', '')
    .action(async (workspace: string, setId: number, options: StandingOptions) =>
      finish(await runChooseTests(workspace, setId, standing, options)),
    );
}

function alreadyOption(): Option {
  return new Option(
    '--already <answer>',
    'tests that are in use already: leave them out, set the earlier ones aside, or count both',
  ).choices(['leave-out', 'replace', 'keep-both']);
}

function addRelationCommands(calibrate: Command, finish: (exitCode: number) => void): void {
  addRelationOptions(
    calibrate
      .command('try')
      .description(
        'fit one relation, or several side by side, and judge how well it foretells poles that it has not seen',
      )
      .argument('<workspace>'),
  )
    .option('--candidates <file>', 'JSON array of { name, spec }, in place of the options of one relation')
    .option('--json', 'one JSON object')
    .action(async (workspace: string, options: TryOptions) => finish(await runTry(workspace, options)));
  addRelationOptions(
    calibrate
      .command('price')
      .description('print what each threshold on the chance of being weak costs')
      .argument('<workspace>'),
  )
    .option('--missed <cost>', 'cost of a weak pole kept', parsePositive, 10)
    .option('--needless <cost>', 'cost of a needless replacement, in the same unit', parsePositive, 1)
    .option(
      '--below-share <x>',
      'weak below this share of the fibre stress of the species',
      parsePositive,
      TWO_THIRDS,
    )
    .option('--below-mpa <stress>', 'weak below this stress at ground line instead', parsePositive)
    .option('--weak-share <x>', 'share of weak poles on the line; absent: as among the tests', parsePositive)
    .option('--json', 'one JSON object')
    .action(async (workspace: string, options: PriceOptions) => finish(await runPrice(workspace, options)));
  addRelationOptions(
    calibrate
      .command('publish')
      .description('keep a relation for good, as the next version of a name')
      .argument('<workspace>'),
  )
    .requiredOption('--name <name>', 'small letters, digits and hyphens')
    .requiredOption('--author <name>')
    .requiredOption('--note <text>', 'where the tests are from, what the relation is for')
    .option(
      '--despite <reason>',
      'why it is published in spite of weaknesses that it has; kept in the trail',
      '',
    )
    .action(async (workspace: string, options: PublishOptions) =>
      finish(await runPublish(workspace, options)),
    );
}

function addVersionCommands(calibrate: Command, finish: (exitCode: number) => void): void {
  calibrate
    .command('list')
    .description('print the calibrations of a workspace')
    .argument('<workspace>')
    .option('--json', 'one JSON object')
    .action(async (workspace: string, options: { json?: boolean }) =>
      finish(await runListCalibrations(workspace, options)),
    );
  calibrate
    .command('use')
    .description('have new results take a calibration')
    .argument('<workspace>')
    .argument('<calibration>', 'name@version; handbook@1 is in every workspace')
    .requiredOption('--by <name>', 'who chooses it')
    .option('--reason <text>', 'why; asked for where it has weaknesses', '')
    .action(async (workspace: string, label: string, options: { by: string; reason: string }) =>
      finish(await runUse(workspace, label, options)),
    );
  calibrate
    .command('export')
    .description('write a calibration to one JSON file, for another workspace')
    .argument('<workspace>')
    .argument('<calibration>', 'name@version')
    .option('--out <file>', 'absent: <name>-<version>.calibration.json')
    .action(async (workspace: string, label: string, options: { out?: string }) =>
      finish(await runExport(workspace, label, options)),
    );
  calibrate
    .command('import')
    .description('bring a calibration in from a file that another workspace wrote')
    .argument('<workspace>')
    .argument('<file>')
    .action(async (workspace: string, file: string) => finish(await runImportCalibration(workspace, file)));
}

function addRecomputeCommands(calibrate: Command, finish: (exitCode: number) => void): void {
  calibrate
    .command('recompute')
    .description(
      'bring the results of a workspace under a calibration; Ctrl-C cancels it, and nothing is stored',
    )
    .argument('<workspace>')
    .argument('<calibration>', 'name@version')
    .requiredOption('--by <name>', 'who asks for it')
    .option('--json', 'one JSON object: the differences')
    .action(async (workspace: string, label: string, options: { by: string; json?: boolean }) =>
      finish(await runRecompute(workspace, label, options)),
    );
  calibrate
    .command('differences')
    .description(
      'print which visits change side or are told no capacity any more by a recompute, by how much and why',
    )
    .argument('<workspace>')
    .option('--all', 'every pole whose result changed')
    .option('--recompute <n>', 'number of the recompute; absent: the newest', parseCount)
    .option('--limit <n>', 'how many poles', parseCount, DIFFERENCES_SHOWN)
    .option('--json', 'one JSON object')
    .action(async (workspace: string, options: DifferencesOptions) =>
      finish(await runDifferences(workspace, options)),
    );
}

function parseSet(text: string): number {
  const setId = Number(text);
  if (Number.isInteger(setId) && setId > 0) return setId;
  throw new InvalidArgumentError('The number of a table is expected.');
}

function parseCount(text: string): number {
  const count = Number(text);
  if (Number.isInteger(count) && count >= 1 && count <= MOST_DIFFERENCES) return count;
  throw new InvalidArgumentError(`A whole number from 1 to ${MOST_DIFFERENCES} is expected.`);
}

function addSpecies(text: string, before: ReadTestsOptions['species']): ReadTestsOptions['species'] {
  const [, name, known] = /^(.+)=(.+?)$/.exec(text) ?? [];
  const species = SPECIES.find((own) => own === known);
  if (name && species) return { ...before, [name]: species };
  throw new InvalidArgumentError(
    `A name of the table and one of ${SPECIES.join(', ')} are expected, for instance "Oregon fir=douglas-fir".`,
  );
}

function addColumn(text: string, before: ReadTestsOptions['column']): ReadTestsOptions['column'] {
  const match = /^(.+?)=([A-Za-z0-9]*)(?::(.+))?$/.exec(text);
  if (!match) {
    throw new InvalidArgumentError(
      'A header, a field and its unit are expected, for instance "Pmax=breakLoadN:kN".',
    );
  }
  const [, header, field, unit] = match;
  return [...before, { header: header!, field: field || null, unit: unit ?? null }];
}
