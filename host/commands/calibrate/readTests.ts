import { basename } from 'node:path';
import { InputError } from '../../../core/errors.ts';
import type { CallRequest, CallResponse } from '../../../core/workspace/index.ts';
import { ask } from '../ask.ts';
import { readInput } from '../files.ts';
import { layTable, print, printJson } from '../print.ts';
import { withWorkspace } from '../register.ts';

type Reading = CallResponse<'calibration.readTests'>;
type Mapping = Reading['mapping'];

export type ReadTestsOptions = {
  keep?: boolean;
  column: { header: string; field: string | null; unit: string | null }[];
  decimal?: Mapping['decimalMark'];
  species: NonNullable<Mapping['species']>;
  samePole: string[];
  already?: NonNullable<CallRequest<'calibration.keepTests'>['alreadyHere']>['answer'];
  by?: string;
  json?: boolean;
};

/**
 * Reads a table of break tests, prints what its columns are taken for and what is refused, and keeps it where asked to.
 * @returns 1 where the table cannot be read yet, nothing of it could be kept, or it waits for what becomes of tests that are in use already
 * @throws InputError `calibrate.column`, `calibrate.by`
 */
export function runReadTests(workspace: string, path: string, options: ReadTestsOptions): Promise<number> {
  const file = { fileName: basename(path), base64: readInput(path).toString('base64') };
  return withWorkspace(workspace, async (handlers) => {
    let reading = await ask(handlers, 'calibration.readTests', file);
    const mapping = changeMapping(reading.mapping, options);
    if (mapping !== reading.mapping)
      reading = await ask(handlers, 'calibration.readTests', { ...file, mapping });
    const canKeep = reading.lacks.length === 0 && reading.readable > 0;
    const isAsked = options.keep && reading.alreadyHere !== null && options.already === undefined;
    const kept =
      options.keep && canKeep && !isAsked
        ? await ask(handlers, 'calibration.keepTests', {
            ...{ ...file, mapping: reading.mapping },
            ...answerHere(reading, options),
          })
        : null;
    if (options.json) printJson({ ...reading, kept });
    else {
      describe(reading, options);
      if (kept)
        print(
          kept.isNew
            ? `Kept as set ${kept.setId}: ${kept.kept} tests.`
            : `Was kept before, as set ${kept.setId}. Where it is set aside: calibrate take-up.`,
        );
      else if (canKeep) print(`Nothing was kept${isAsked ? '' : '; add --keep to keep it'}.`);
    }
    return canKeep && !isAsked ? 0 : 1;
  });
}

function answerHere({ alreadyHere }: Reading, { already: answer, by: chosenBy }: ReadTestsOptions) {
  if (!alreadyHere || answer === undefined) return {};
  if (chosenBy === undefined) {
    throw new InputError('calibrate.by', 'Nobody is named who says so.', 'Add --by "your name".');
  }
  return { alreadyHere: { answer, earlier: alreadyHere.earlier, chosenBy } };
}

/** The proposed mapping with what the command line says otherwise. @throws InputError `calibrate.column` */
function changeMapping(
  mapping: Mapping,
  { column: changes, decimal, species, samePole }: ReadTestsOptions,
): Mapping {
  const isSpeciesSaid = Object.keys(species).length > 0;
  if (changes.length === 0 && decimal === undefined && !isSpeciesSaid && samePole.length === 0)
    return mapping;
  const columns = mapping.columns.map((column) => ({ ...column }));
  for (const { header, field, unit } of changes) {
    const found = columns.find((column) => column.header === header);
    if (!found) {
      throw new InputError(
        'calibrate.column',
        `The table has no column "${header}".`,
        `Its columns are: ${columns.map((column) => column.header).join(', ')}.`,
      );
    }
    Object.assign(found, { field, unit, isCertain: true });
  }
  return {
    decimalMark: decimal ?? mapping.decimalMark,
    columns,
    ...(isSpeciesSaid && { species }),
    ...(samePole.length > 0 && { samePole }),
  };
}

function describe(reading: Reading, { already }: ReadTestsOptions): void {
  const { mapping, fields, lacks, rows, readable, linked, differing, unknownSpecies, refused, notes } =
    reading;
  const labelOf = new Map(fields.map(({ field, label }) => [field, label]));
  print(
    layTable(
      ['Column', 'Holds', 'Field', 'Unit', ''],
      mapping.columns.map(({ header, field, unit, isCertain }) => [
        header,
        field === null ? 'passed over' : labelOf.get(field)!,
        field ?? '',
        unit ?? '',
        field !== null && !isCertain ? 'guessed from part of the name' : '',
      ]),
    ),
  );
  for (const lack of lacks) print(lack);
  for (const note of notes) print(note);
  for (const { line, column, value, reason, hint } of refused) {
    print(`Line ${line}${column === null ? '' : `, column "${column}"`}: "${value}" ${reason}. ${hint}`);
  }
  for (const { name, tests } of unknownSpecies) {
    const takenFor = mapping.species?.[name];
    const hint = takenFor ? '' : `; say which it is: --species "${name}=southern-pine"`;
    print(
      `Species "${name}" (${tests === 1 ? '1 test' : `${tests} tests`}) is not known here and counts as ${(takenFor ?? 'other').replaceAll('-', ' ')}${hint}.`,
    );
  }
  for (const { test, line, visit, differences, isSamePole } of differing) {
    print(
      `Line ${line}, test ${test}: ${isSamePole ? 'linked' : 'not linked'} to the visit of ${visit}: ${differences.join('; ')}.` +
        (isSamePole ? '' : ` If it is the same pole all the same: --same-pole "${test}"`),
    );
  }
  if (reading.alreadyHere) {
    for (const { test, line, differences } of reading.alreadyHere.differing) {
      print(`Line ${line}, test ${test}, is here with other values: ${differences.join(', ')}.`);
    }
    const question =
      ' Say what becomes of them: --already leave-out, replace or keep-both, and --by "your name".';
    print(`${reading.alreadyHere.words}${already === undefined ? question : ''}`);
  }
  if (lacks.length === 0) {
    print(
      `${readable} of ${rows} rows can be taken${linked > 0 ? `; ${linked} of them linked to visits here` : ''}.`,
    );
  }
}
