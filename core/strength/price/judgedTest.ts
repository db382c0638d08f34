import { InputError } from '../../errors.ts';

/** One break test beside what had been predicted of its pole by a relation that did not see it. */
export type JudgedTest = {
  /** Tests of one pole are drawn together. */
  readonly poleId: string;
  /** Predicted chance that the pole is below its requirement, 0 to 1. */
  readonly chanceBelow: number;
  /** Whether the break showed it below its requirement. */
  readonly isWeak: boolean;
};

/** What a wrong decision costs beyond the right one, in any one unit. */
export type Costs = {
  /** A weak pole is kept. */
  readonly missedWeak: number;
  /** A sound pole is replaced. */
  readonly needlessReplacement: number;
};

/** An interval that holds the truth with a chance of `level`. */
export type Interval = { readonly low: number; readonly high: number; readonly level: number };

export const DEFAULT_LEVEL = 0.95;
export const DEFAULT_RESAMPLES = 1000;
export const DEFAULT_SEED = 1;

const MOST_TESTS = 100_000;
const MOST_RESAMPLES = 10_000;

export type ResamplingOptions = {
  /** @default 0.95 */
  readonly level?: number;
  /** Draws of the bootstrap, 100 to 10,000. @default 1000 */
  readonly resamples?: number;
  /** The same seed gives the same intervals; a whole number above 0. @default 1 */
  readonly seed?: number;
};

/** Refuses what no price can be told of. @throws InputError `price.tests`, `price.chance`, `price.option` */
export function checkJudgedTests(tests: readonly JudgedTest[], options: ResamplingOptions): void {
  if (tests.length === 0 || tests.length > MOST_TESTS) {
    throw new InputError(
      'price.tests',
      `${tests.length} break tests; 1 to ${MOST_TESTS} are expected.`,
      'Read break tests and predict each by a relation that did not see it.',
    );
  }
  for (const { poleId, chanceBelow } of tests) {
    if (chanceBelow >= 0 && chanceBelow <= 1) continue;
    throw new InputError(
      'price.chance',
      `Pole ${poleId}: a chance of ${chanceBelow}; 0 to 1 is expected.`,
      'Leave out tests that the relation cannot predict.',
    );
  }
  const { level = DEFAULT_LEVEL, resamples = DEFAULT_RESAMPLES, seed = DEFAULT_SEED } = options;
  requireBetween('level', level, 0.5, 0.999);
  requireBetween('resamples', resamples, 100, MOST_RESAMPLES, true);
  requireBetween('seed', seed, 1, 2 ** 31 - 2, true);
}

/** @throws InputError `price.option` naming what was given and what is expected */
export function requireBetween(
  name: string,
  value: number,
  least: number,
  most: number,
  isWhole = false,
): void {
  if (value >= least && value <= most && (!isWhole || Number.isInteger(value))) return;
  throw new InputError(
    'price.option',
    `${name}: ${value}; ${isWhole ? 'a whole number' : 'a number'} from ${least} to ${most} is expected.`,
    'Correct the number.',
  );
}

/** @throws InputError `price.cost` */
export function checkCosts(costs: Costs): void {
  for (const [name, value] of Object.entries(costs)) {
    if (value > 0 && Number.isFinite(value)) continue;
    throw new InputError(
      'price.cost',
      `Cost ${name}: ${value}; a number above 0 is expected.`,
      'Only the ratio of the two costs moves the threshold: set the needless replacement to 1 and the missed pole to how many of those it is worth.',
    );
  }
}
