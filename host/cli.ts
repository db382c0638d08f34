import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { StemrootError } from '../core/errors.ts';
import { PROGRAM } from '../core/program.ts';
import { DECISIONS } from '../core/workspace/index.ts';
import { addCalibrateCommands } from './commands/addCalibrateCommands.ts';
import { addCareCommands } from './commands/addCareCommands.ts';
import { addFleetCommands } from './commands/addFleetCommands.ts';
import { addLessonCommands } from './commands/addLessonCommands.ts';
import { addRequirementCommands } from './commands/addRequirementCommands.ts';
import { addTeamCommands } from './commands/addTeamCommands.ts';
import { runAssess } from './commands/assess.ts';
import { runExport } from './commands/export.ts';
import { runImport } from './commands/import.ts';
import { runModes } from './commands/modes.ts';
import { parsePositive } from './commands/parsePositive.ts';
import { runList, runShow } from './commands/register.ts';
import { runReport } from './commands/report.ts';
import { type RuleOptions, runRule } from './commands/rule.ts';
import { runUniversal } from './commands/universal.ts';
import { runWhatIf, type WhatIfOptions } from './commands/whatIf.ts';
import { plainText } from './plainText.ts';

const EXIT_FAILED = 1;
const EXIT_WRONG_USAGE = 2;

/** Runs one command. @returns its exit code: 0 all well, 1 something failed, 2 wrong usage */
export async function runCli(args: readonly string[]): Promise<number> {
  let exitCode = 0;
  const program = describeCommands((code) => {
    exitCode = code;
  });
  try {
    await program.parseAsync(args, { from: 'user' });
    return exitCode;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : EXIT_WRONG_USAGE;
    if (!(error instanceof StemrootError)) throw error;
    process.stderr.write(plainText(`${error.message}\n${error.hint}\n`));
    return EXIT_FAILED;
  }
}

function parseMassAtHeight(text: string): { massKg: number; heightM: number } {
  const [massKg, heightM] = text.split('@').map(Number);
  if (massKg === undefined || heightM === undefined || !(massKg > 0 && heightM > 0)) {
    throw new InvalidArgumentError('A mass in kg and a height in m are expected, for instance 50@7.5.');
  }
  return { massKg, heightM };
}

function describeCommands(finish: (exitCode: number) => void): Command {
  const program = new Command('stemroot')
    .description('Turns recordings of struck wooden poles into bending capacity with an interval.')
    .version(PROGRAM)
    .exitOverride();
  program
    .command('assess')
    .description('assess visit files; recordings are looked up beside each')
    .argument('<visits...>', 'visit files (*.visit.json)')
    .option('--json', 'one JSON object a line, one for each visit, in order')
    .action(async (visits: string[], options: { json?: boolean }) =>
      finish(await runAssess(visits, options)),
    );
  program
    .command('modes')
    .description("print what a visit's strikes ring at: modes taken and refused with reasons, before any fit")
    .argument('<visit>', 'visit file (*.visit.json)')
    .option('--json', 'one JSON object')
    .action((visit: string, options: { json?: boolean }) => finish(runModes(visit, options)));
  program
    .command('universal')
    .description('write the recordings of a visit as universal files (dataset 58), in m/s2')
    .argument('<visit>', 'visit file (*.visit.json)')
    .requiredOption('--out <folder>', 'folder, made where it is missing; no file in it is written over')
    .option('--text', 'as text, 13 digits; absent: binary, every digit')
    .action((visit: string, options: { out: string; text?: boolean }) =>
      finish(runUniversal(visit, options)),
    );
  program
    .command('what-if')
    .description("print the frequencies of a visit's pole as fitted, and as changed in thought")
    .argument('<visit>', 'visit file (*.visit.json)')
    .option('--modulus-gpa <E>', 'stem modulus in GPa', parsePositive)
    .option('--fixity <k>', 'fixity of the root', parsePositive)
    .option('--cable-factor <x>', 'factor on the stiffness of all cables', parsePositive)
    .option('--add-mass <kg@m>', 'a further mass and its height, for instance 50@7.5', parseMassAtHeight)
    .option('--depth-m <m>', 'setting depth in m', parsePositive)
    .option('--json', 'one JSON object, with spectra')
    .action((visit: string, options: WhatIfOptions) => finish(runWhatIf(visit, options)));
  program
    .command('import')
    .description('import visits with their recordings into a workspace')
    .argument(
      '<workspace>',
      'workspace file (*.stemroot) or connection of a team store, made where it is missing',
    )
    .argument('<paths...>', 'visit files, or folders of them')
    .option('--assess', 'assess those that have no result yet')
    .action(async (workspace: string, paths: string[], options: { assess?: boolean }) =>
      finish(await runImport(workspace, paths, options)),
    );
  program
    .command('list')
    .description('print every visit of a workspace as a table')
    .argument('<workspace>')
    .action(async (workspace: string) => finish(await runList(workspace)));
  program
    .command('show')
    .description('print the results and rulings of one pole')
    .argument('<workspace>')
    .argument('<pole>')
    .action(async (workspace: string, pole: string) => finish(await runShow(workspace, pole)));
  program
    .command('report')
    .description('write the report of a visit file, or of the latest visit of a pole in a workspace')
    .argument('<source>', 'visit file (*.visit.json) or workspace')
    .argument('[pole]', 'pole in the workspace')
    .requiredOption('--out <file>', 'HTML file to write')
    .option('--date <yyyy-mm-dd>', 'date of the visit in the workspace; absent: the latest')
    .action(async (source: string, pole: string | undefined, options: { out: string; date?: string }) =>
      finish(await runReport(source, pole, options)),
    );
  program
    .command('export')
    .description('write all visits, or all poles, into a file for other programs (docs/exports.md)')
    .argument('<workspace>')
    .requiredOption(
      '--out <file>',
      'ends in .csv or .parquet: a row a visit; .geojson: a point a pole; what stands there is replaced',
    )
    .option('--json', 'what was written, as one JSON object')
    .action(async (workspace: string, options: { out: string; json?: boolean }) =>
      finish(await runExport(workspace, options)),
    );
  program
    .command('rule')
    .description('rule on the latest visit of a pole')
    .argument('<workspace>')
    .argument('<pole>')
    .addOption(new Option('--decision <decision>').choices(DECISIONS).makeOptionMandatory())
    .requiredOption('--reason <text>')
    .requiredOption('--analyst <name>')
    .option('--in-spite', 'keep the pole though its result speaks against it')
    .option('--date <yyyy-mm-dd>', 'date of the visit; absent: the latest')
    .action(async (workspace: string, pole: string, options: RuleOptions) =>
      finish(await runRule(workspace, pole, options)),
    );
  addCalibrateCommands(program, finish);
  addCareCommands(program, finish);
  addFleetCommands(program, finish);
  addLessonCommands(program, finish);
  addTeamCommands(program, finish);
  addRequirementCommands(program, finish);
  return program;
}

// a reader that has seen enough, as `head` has, is no error
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

if (import.meta.main) process.exitCode = await runCli(process.argv.slice(2));
