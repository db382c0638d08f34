import type { FrequencyTable } from './frequencyTable.ts';
import { interpolate, interpolateRow } from './interpolate.ts';
import { MODE_LOG_SD } from './irregularities.ts';

/**
 * Least ln (f2 / f1) that the model of a pole can show in a plane, over all roots at the prior modulus, and its
 * standard deviation from the uncertain inputs and the model's error. A rigid root is near the least; the ratio is
 * not monotonic there.
 */
export function ratioFloor(table: FrequencyTable, plane: number): { lnRatio: number; sd: number } {
  const lnModulus = table.lnModulus[1]!;
  let lnRatio = Number.POSITIVE_INFINITY;
  let atX = 0;
  for (const x of table.x) {
    const ratio =
      interpolate(table, table.logFrequency[plane]![1]!, x, lnModulus) -
      interpolate(table, table.logFrequency[plane]![0]!, x, lnModulus);
    if (ratio < lnRatio) {
      lnRatio = ratio;
      atX = x;
    }
  }
  const k = table.nuisances.length;
  let variance = MODE_LOG_SD[0]! ** 2 + MODE_LOG_SD[1]! ** 2;
  const [first, second] = [0, 1].map((mode) =>
    interpolateRow(table.sensitivityX, table.sensitivity[plane]![mode]!, atX, new Float64Array(k)),
  );
  for (let q = 0; q < k; q++) variance += (second![q]! - first![q]!) ** 2;
  return { lnRatio, sd: Math.sqrt(variance) };
}
