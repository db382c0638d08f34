import normal from '@stdlib/stats-base-dists-normal';
import { distanceFromTests } from '../relation/describeRange.ts';
import type { FittedRelation } from '../relation/fitRelation.ts';

/** What one test does to a relation, and how far off it lies. */
export type TestDiagnosis = {
  readonly id: string;
  /** Over its own standard deviation, from the fit with all tests but this one: Student's t where errors are normal. */
  readonly studentisedResidual: number;
  /** Where the residual of this rank would lie if residuals were normal. */
  readonly normalQuantile: number;
  readonly leverage: number;
  /** How far all fitted values move together where the test is left out. */
  readonly cooksDistance: number;
  /** From the mean of the tests over all predictors, in standard deviations (Mahalanobis). */
  readonly distance: number;
};

export type Diagnosis = {
  readonly tests: readonly TestDiagnosis[];
  /** Beyond these a test is worth a second look; no more than that. */
  readonly limits: { readonly leverage: number; readonly cooksDistance: number };
};

/** Twice the mean leverage (Hoaglin and Welsch 1978, Am. Stat. 32:17), and 4 / n (Bollen and Jackman 1990); both from memory. */
const LEVERAGE_LIMIT = 2;
const COOK_LIMIT = 4;
/** Plotting positions (i - 3/8) / (n + 1/4) (Blom 1958, from memory). */
const BLOM = 3 / 8;

/**
 * Diagnoses each test of a fit: leverage h, internally studentised r = e sqrt(w) / (s sqrt(1 - h)), externally
 * r sqrt((nu - 1) / (nu - r^2)), Cook's distance r^2 h / ((1 - h) p) (Cook 1977, Technometrics 19:15). With pooled groups p is the sum of
 * leverages and variances between groups are held; of a robust fit leverages are those of its last weights.
 */
export function diagnoseTests({ tests, relation, range }: FittedRelation): Diagnosis {
  const { residualScale, degreesOfFreedom } = relation;
  const terms = tests.reduce((sum, { leverage }) => sum + leverage, 0);
  const studentised = tests.map(({ residual, leverage, weight }) => {
    const internal = (residual * Math.sqrt(weight)) / (residualScale * Math.sqrt(1 - leverage));
    // a residual beyond what its degrees of freedom allow is left alone: all scatter is its own
    const rest = Math.max(degreesOfFreedom - internal ** 2, Number.EPSILON);
    return {
      external: internal * Math.sqrt((degreesOfFreedom - 1) / rest),
      cooksDistance: (internal ** 2 * leverage) / ((1 - leverage) * terms),
    };
  });
  const ranks = rankOf(studentised.map(({ external }) => external));
  return {
    tests: tests.map(({ id, leverage, values }, i) => ({
      id,
      studentisedResidual: studentised[i]!.external,
      normalQuantile: normal.quantile((ranks[i]! + 1 - BLOM) / (tests.length + 1 - 2 * BLOM), 0, 1),
      leverage,
      cooksDistance: studentised[i]!.cooksDistance,
      distance: distanceFromTests(range, values),
    })),
    limits: {
      leverage: (LEVERAGE_LIMIT * terms) / tests.length,
      cooksDistance: COOK_LIMIT / tests.length,
    },
  };
}

function rankOf(values: readonly number[]): number[] {
  const order = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Array<number>(values.length);
  for (const [rank, i] of order.entries()) ranks[i] = rank;
  return ranks;
}
