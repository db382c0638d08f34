import { InputError } from '../../errors.ts';
import { compareBreakTests, isNamed, tellsSameBreak } from '../../strength/index.ts';
import type { CallRequest, CallResponse } from '../contract.ts';
import { tellConflict } from '../tellConflict.ts';
import type { KeptBreakTest, ListedBreakTest } from './breakTests.repository.ts';

/** A test that is to come into use, whose specimen is in use already. */
export type TestHere<T extends KeptBreakTest> = {
  readonly test: T;
  readonly earlier: readonly ListedBreakTest[];
  /** From the newest of these, in words; empty where both tell the same. */
  readonly differences: readonly string[];
};

/** What becomes of tests that are in use already, and which these were when somebody said so. */
export type AnswerHere = NonNullable<CallRequest<'calibration.chooseTests'>['alreadyHere']>;

/** Tests whose specimen is in use: under its name, or the same break of the same pole, or of one that either table leaves without a name. */
export function findHere<T extends KeptBreakTest>(
  tests: readonly T[],
  inUse: readonly ListedBreakTest[],
): TestHere<T>[] {
  return tests.flatMap((test) => {
    const earlier = inUse.filter((other) => isSameSpecimen(test, other));
    if (earlier.length === 0) return [];
    return [{ test, earlier, differences: compareBreakTests(earlier.at(-1)!, test) }];
  });
}

function isSameSpecimen(test: KeptBreakTest, other: KeptBreakTest): boolean {
  const areNamed = isNamed(test) && isNamed(other);
  if (areNamed && test.detail.id === other.detail.id) return true;
  if (!tellsSameBreak(test, other)) return false;
  return !areNamed || test.row.poleId.toLowerCase() === other.row.poleId.toLowerCase();
}

/** What a person is asked about, before tests come into use; null where nothing would count twice. */
export function describeHere(
  here: readonly TestHere<KeptBreakTest>[],
  tests: number,
): CallResponse<'calibration.readTests'>['alreadyHere'] {
  if (here.length === 0) return null;
  return {
    words: tellHere(here, tests),
    tests: here.length,
    earlier: listEarlier(here),
    differing: here.flatMap(({ test: { detail }, differences }) =>
      differences.length > 0 ? [{ test: detail.id, line: detail.line, differences: [...differences] }] : [],
    ),
  };
}

/** Which tables have the tests, and how many tell the same, in a sentence. */
function tellHere(here: readonly TestHere<KeptBreakTest>[], tests: number): string {
  const differing = here.filter(({ differences }) => differences.length > 0).length;
  const values =
    differing === 0
      ? 'with the same values'
      : differing === here.length
        ? 'with other values'
        : `${here.length - differing} with the same values, ${differing} with others`;
  return `${here.length} of ${tests} tests are here already, from ${nameTables(here)}, ${values}.`;
}

/** Tests in use of the same specimens, each once, in order. */
function listEarlier(here: readonly TestHere<KeptBreakTest>[]): number[] {
  return [...new Set(here.flatMap(({ earlier }) => earlier.map(({ testId }) => testId)))].sort(
    (a, b) => a - b,
  );
}

/** Tests in use that make way, each with the one that takes its place. */
export function pairUp<T extends KeptBreakTest>(
  here: readonly TestHere<T>[],
  idOf: (test: T) => number,
): { testId: number; by: number }[] {
  return here.flatMap(({ test, earlier }) => earlier.map(({ testId }) => ({ testId, by: idOf(test) })));
}

export function nameTables(here: readonly TestHere<KeptBreakTest>[]): string {
  return [...new Set(here.flatMap(({ earlier }) => earlier.map(({ fileName }) => fileName)))].join(', ');
}

/**
 * Lets no test count twice unless somebody said so of the very tests that are in use.
 * @param tests - all that are to come into use
 * @throws InputError `breakTests.here`; StoreError `store.conflict`
 */
export function requireAnswer(
  here: readonly TestHere<KeptBreakTest>[],
  tests: number,
  answer: AnswerHere | undefined,
): void {
  if (here.length > 0 && !answer) {
    throw new InputError(
      'breakTests.here',
      tellHere(here, tests),
      'Say whether they are left out, replace the earlier ones, or are kept beside them.',
    );
  }
  const earlier = listEarlier(here);
  if (answer && !isSameList(answer.earlier, earlier)) {
    throw tellConflict('What is here of the table', `${answer.earlier.length} tests in use, as listed`, {
      words: here.length === 0 ? 'none' : `${earlier.length} tests in use, from ${nameTables(here)}`,
    });
  }
}

function isSameList(told: readonly number[], now: readonly number[]): boolean {
  return told.length === now.length && now.every((testId) => told.includes(testId));
}
