import { inverse, Matrix } from 'ml-matrix';

/** Mahalanobis distance: length of offsets from a middle in standard deviations over all variables together. */
export function distanceOf(
  inverseCovariance: readonly (readonly number[])[],
  offsets: readonly number[],
): number {
  const square = offsets.reduce(
    (sum, a, i) => sum + offsets.reduce((inner, b, j) => inner + a * b * inverseCovariance[i]![j]!, 0),
    0,
  );
  return Math.sqrt(Math.max(0, square));
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
