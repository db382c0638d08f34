import { type Command, InvalidArgumentError, Option } from 'commander';
import { InputError } from '../../../core/errors.ts';
import type { CallRequest } from '../../../core/workspace/index.ts';
import { readInput } from '../files.ts';

export type Candidate = CallRequest<'calibration.tryRelations'>['candidates'][number];
type Spec = Candidate['spec'];

/** Options that describe one relation, as the command line gives them. */
export type RelationOptions = {
  from: Spec['predictors'];
  predict: Spec['response'];
  form: Spec['form'];
  species: Spec['species'];
  treatment: Spec['treatment'];
  fit: Spec['estimator'];
  modulusError: Spec['modulusError'];
  leaveOut: number[];
};

const GROUPINGS = ['none', 'pooled', 'fixed'];

/** Adds the options that describe a relation, with the plainest as the default. */
export function addRelationOptions(command: Command): Command {
  return command
    .option(
      '--from <names>',
      'predictors: modulus, specificModulus, frequency1 to frequency3, circumference, fixity, age, moisture; "" for none',
      parseNames,
      ['modulus'],
    )
    .addOption(
      new Option('--predict <what>', 'stress at ground line, or where the pole broke')
        .choices(['groundlineStress', 'modulusOfRupture'])
        .default('groundlineStress'),
    )
    .addOption(new Option('--form <form>').choices(['log-linear', 'linear']).default('log-linear'))
    .addOption(new Option('--species <how>', 'groups by species').choices(GROUPINGS).default('none'))
    .addOption(new Option('--treatment <how>', 'groups by treatment').choices(GROUPINGS).default('none'))
    .addOption(new Option('--fit <how>').choices(['ordinary', 'weighted', 'robust']).default('ordinary'))
    .addOption(
      new Option('--modulus-error <how>', 'the error in the measured modulus')
        .choices(['ignored', 'acknowledged'])
        .default('ignored'),
    )
    .option(
      '--leave-out <tests>',
      'tests that are not used, by their numbers with commas and no blanks between, for instance 3,17; "calibrate tests" prints the numbers',
      parseNumbers,
      [],
    );
}

/** The relation that options describe. */
export function readSpec(options: RelationOptions): Spec {
  return {
    response: options.predict,
    form: options.form,
    predictors: options.from,
    species: options.species,
    treatment: options.treatment,
    estimator: options.fit,
    modulusError: options.modulusError,
  };
}

/** Candidates from a file: a JSON array of `{ "name": ..., "spec": ... }`. @throws InputError `file.unreadable`, `calibrate.candidates` */
export function readCandidates(path: string): Candidate[] {
  const text = readInput(path).toString('utf8');
  try {
    const parsed: unknown = JSON.parse(text);
    if (Array.isArray(parsed)) return parsed as Candidate[];
    throw new Error('it holds no array');
  } catch (error) {
    throw new InputError(
      'calibrate.candidates',
      `${path} cannot be read as candidates: ${(error as Error).message}.`,
      'Expected is a JSON array of { "name": ..., "spec": ... }; docs/calibration.md has one.',
    );
  }
}

function parseNames(text: string): string[] {
  return text
    .split(',')
    .map((name) => name.trim())
    .filter(Boolean);
}

function parseNumbers(text: string): number[] {
  const numbers = text.split(',').map(Number);
  if (numbers.every((number) => Number.isInteger(number) && number > 0)) return numbers;
  throw new InvalidArgumentError(
    'Numbers of tests are expected, with commas and no blanks between, for instance 3,17.',
  );
}
