import t from '@stdlib/stats-base-dists-t';
import type { FittedTest } from '../relation/fitRelation.ts';
import type { HeldOutTest } from './heldOutTest.ts';

/** Share of the scatter of strengths that a relation foretells of poles that it has not seen; 90 % interval. */
export type PredictiveShare = { readonly value: number; readonly low: number; readonly high: number };

/** Either end of the 90 % interval is passed by one in twenty. */
const TAIL = 0.05;

/**
 * Computes the predictive R^2 of a relation, 1 - PRESS / PRESS of the mean: squared errors of each pole by the relation without it (Allen 1974,
 * Technometrics 16:125), over those by the mean of the other poles' tests. 0 is no better than that mean, below 0 worse. Its interval is that
 * of a mean of paired differences of squared errors, by pole, with Student's t (as forecasts are compared: Diebold and Mariano 1995, J. Bus.
 * Econ. Stat. 13:253, for errors that do not hang together); both from memory. It passes over that the relations without one pole share their tests.
 * @param tests - as fitted, on the scale of the fit
 * @param heldOut - the same tests by the relation without their pole; those that nothing was predicted of count as their mean does
 * @returns NaN with fewer than three poles
 */
export function predictiveShare(
  tests: readonly Pick<FittedTest, 'response'>[],
  heldOut: readonly HeldOutTest[],
): PredictiveShare {
  const total = tests.reduce((sum, { response }) => sum + response, 0);
  const poles = [...new Set(heldOut.map(({ poleId }) => poleId))].map((poleId) => {
    const own = tests.flatMap((test, i) => (heldOut[i]!.poleId === poleId ? [{ test, i }] : []));
    const sum = own.reduce((all, { test }) => all + test.response, 0);
    const meanOfOthers = (total - sum) / (tests.length - own.length);
    let [byMean, byRelation] = [0, 0];
    for (const { test, i } of own) {
      const off = test.response - meanOfOthers;
      byMean += off ** 2;
      const { strengthPa } = heldOut[i]!;
      byRelation += (strengthPa === null ? off : test.response - strengthPa.centre) ** 2;
    }
    return { byMean, byRelation };
  });
  const n = poles.length;
  const ofMean = poles.reduce((sum, { byMean }) => sum + byMean, 0);
  const value = 1 - poles.reduce((sum, { byRelation }) => sum + byRelation, 0) / ofMean;
  // of a ratio, to first order
  const squares = poles.reduce(
    (sum, { byMean, byRelation }) => sum + ((1 - value) * byMean - byRelation) ** 2,
    0,
  );
  const half =
    n < 3 ? Number.NaN : (t.quantile(1 - TAIL, n - 1) * Math.sqrt((squares * n) / (n - 1))) / ofMean;
  return { value, low: value - half, high: value + half };
}
