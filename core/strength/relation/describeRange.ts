import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import type { ValidityRange } from './calibrationDocument.ts';
import { distanceOf, invertScaled } from './mahalanobis.ts';
import { measurementsOf, PREDICTOR_INFO } from './predictors.ts';
import type { PreparedRow } from './prepareRows.ts';
import type { PredictorName, RelationSpec } from './relationSpec.ts';

/** Share of poles of the tested kind that is to lie within the limit: one in a hundred is warned of for nothing (ours). */
const SHARE_WITHIN = 0.99;

/** Conditions that change strength and that the tests of a relation without them cannot speak of beyond their span. */
const CONDITIONS: readonly PredictorName[] = ['circumference', 'age', 'moisture'];

/**
 * Describes where a relation was tested: spans, and a limit on the Mahalanobis distance d of a pole from the mean of the tests.
 * Of a further pole drawn as the n tested ones were, from a normal population, d^2 n (n - k) / ((n^2 - 1) k) has the F distribution
 * with k and n - k degrees of freedom (Hotelling 1931; Anderson 2003, Multivariate Statistical Analysis, 5.3, from memory); the limit is its 99 % quantile.
 * @param values - predictors as the fit saw them, on its scale
 */
export function describeRange(
  rows: readonly PreparedRow[],
  values: readonly (readonly number[])[],
  spec: RelationSpec,
): ValidityRange {
  const n = rows.length;
  const k = spec.predictors.length;
  const columns = spec.predictors.map((_, j) => values.map((row) => row[j]!));
  const means = columns.map(meanOf);
  const covariance = columns.map((a, i) =>
    columns.map((b, j) => a.reduce((sum, x, r) => sum + (x - means[i]!) * (b[r]! - means[j]!), 0) / (n - 1)),
  );
  return {
    poles: new Set(rows.map(({ row }) => row.poleId)).size,
    // rows never hold both
    piece: rows[0]!.row.piece,
    predictors: spec.predictors.map((name, j) => ({
      name,
      mean: means[j]!,
      min: Math.min(...columns[j]!),
      max: Math.max(...columns[j]!),
    })),
    inverseCovariance: invertScaled(covariance),
    distanceLimit:
      k === 0 ? null : Math.sqrt(((k * (n ** 2 - 1)) / (n * (n - k))) * fQuantile(SHARE_WITHIN, k, n - k)),
    conditions: CONDITIONS.filter((name) => !spec.predictors.includes(name)).flatMap((name) => {
      const known = rows.flatMap(({ row }) => PREDICTOR_INFO[name].read(measurementsOf(row)) ?? []);
      return known.length === 0 ? [] : [{ name, min: Math.min(...known), max: Math.max(...known) }];
    }),
  };
}

/** Mahalanobis distance of predictors, on the scale of the fit, from the mean of the tests. */
export function distanceFromTests(
  { predictors, inverseCovariance }: ValidityRange,
  values: readonly number[],
): number {
  return distanceOf(
    inverseCovariance,
    predictors.map(({ mean }, j) => values[j]! - mean),
  );
}

export function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
