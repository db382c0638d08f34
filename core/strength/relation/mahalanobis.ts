import { inverse, Matrix } from 'ml-matrix';

/** Mahalanobis distance: length of offsets from a middle in standard deviations over all variables together. */
export function distanceOf(
  inverseCovariance: readonly (readonly number[])[],
  offsets: readonly number[],
): number {
  return Math.sqrt(Math.max(0, productOf(inverseCovariance, offsets, offsets)));
}

/** Scalar product that belongs to {@link distanceOf}. */
export function productOf(
  inverseCovariance: readonly (readonly number[])[],
  a: readonly number[],
  b: readonly number[],
): number {
  return a.reduce(
    (sum, x, i) => sum + b.reduce((inner, y, j) => inner + x * y * inverseCovariance[i]![j]!, 0),
    0,
  );
}

/** Inverse of a covariance by way of correlations, so that units as far apart as Pa and years cost no digits. */
export function invertScaled(covariance: readonly (readonly number[])[]): number[][] {
  if (covariance.length === 0) return [];
  const sds = covariance.map((row, i) => Math.sqrt(row[i]!));
  const correlation = new Matrix(covariance.map((row, i) => row.map((c, j) => c / (sds[i]! * sds[j]!))));
  return inverse(correlation)
    .to2DArray()
    .map((row, i) => row.map((c, j) => c / (sds[i]! * sds[j]!)));
}
