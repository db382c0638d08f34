import { EigenvalueDecomposition, Matrix, SingularValueDecomposition } from 'ml-matrix';
import { checkSamples } from './checkSamples.ts';
import { decimate } from './decimate.ts';

/** Drift is what moves below this; mode 1 of the slowest standing poles lies at four times as much (ours). */
const DRIFT_BELOW_HZ = 0.3;
/** Mode 1 and drift are told apart at this rate or a little more, where higher modes are filtered away. */
const SLOW_RATE_HZ = 20;
/** Slower swings count as drift: half the frequency of the slowest mode 1. */
const SLOWEST_SWING_HZ = 0.5;
/** Two coefficients a mode: mode 1 of both planes. */
const ORDER = 4;
/** Samples at the slow rate that the ends of the decimation filter reach. */
const EDGE = 10;

/**
 * Removes offset and drift: the constant, the slope and the cosines below 0.3 Hz (half periods over the length of
 * the record) that fit best beside a free decay. A plain fit would take the slow part of the start of a decay
 * along, and with it 6 % of the damping of a mode at 1 Hz. So the recursion that a decay obeys is fitted with the
 * drift (linear least squares), what swings slower than modes is struck out of it, and the drift is then fitted to what the recursion leaves, in which the decay is
 * not seen. Nothing is filtered, so no corner turns the phase of mode 1. The effect on a decay of 1 Hz is
 * in docs/signal.md, and tested.
 * @param samples - a free decay, or a record at rest; 2 or more finite values. Shorter than 4 s, their mean alone
 *   is removed
 * @returns a new array
 * @throws InputError `signal.samples`, `signal.rate`
 */
export function removeDrift(samples: Float64Array, sampleRateHz: number): Float64Array {
  checkSamples(samples, sampleRateHz, 2);
  const count = samples.length;
  const cosines = Math.floor((2 * DRIFT_BELOW_HZ * count) / sampleRateHz);
  const factor = Math.max(1, Math.floor(sampleRateHz / SLOW_RATE_HZ));
  const slow = decimate(samples, factor);
  const functions = cosines + 2;
  const rows = slow.length - 2 * EDGE - ORDER;
  if (rows < 4 * (functions + ORDER)) return removeMean(samples);

  const driftAt = (k: number, at: number): number =>
    k === 0 ? 1 : k === 1 ? (2 * at) / count - 1 : Math.cos((Math.PI * (k - 1) * (at + 0.5)) / count);
  const drifts = Array.from({ length: functions }, (_, k) => slow.map((_value, i) => driftAt(k, i * factor)));
  const first = EDGE + ORDER;
  const design = new Matrix(rows, ORDER + functions);
  const right = new Matrix(rows, 1);
  for (let r = 0; r < rows; r++) {
    for (let lag = 1; lag <= ORDER; lag++) design.set(r, lag - 1, slow[first + r - lag]!);
    for (let k = 0; k < functions; k++) design.set(r, ORDER + k, drifts[k]![first + r]!);
    right.set(r, 0, slow[first + r]!);
  }
  const recursion = keepSwings(solveLeast(design, right).slice(0, ORDER), sampleRateHz / factor);
  const leave = (values: Float64Array, i: number): number => {
    let left = values[i]!;
    for (let lag = 1; lag <= recursion.length; lag++) left -= recursion[lag - 1]! * values[i - lag]!;
    return left;
  };
  const leftDesign = new Matrix(rows, functions);
  for (let r = 0; r < rows; r++) {
    for (let k = 0; k < functions; k++) leftDesign.set(r, k, leave(drifts[k]!, first + r));
    right.set(r, 0, leave(slow, first + r));
  }
  const [level, slope, ...waves] = solveLeast(leftDesign, right);
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    out[i] = samples[i]! - level! - slope! * driftAt(1, i) - sumWaves(waves, (Math.PI * (i + 0.5)) / count);
  }
  return out;
}

/** Sum of waves[m] cos((m + 1) angle), from one cosine (Clenshaw 1955, Math. Tables Aids Comput. 9:118-120). */
function sumWaves(waves: readonly number[], angle: number): number {
  const cos = Math.cos(angle);
  let next = 0;
  let afterNext = 0;
  for (let m = waves.length - 1; m >= 0; m--) {
    const own = waves[m]! + 2 * cos * next - afterNext;
    afterNext = next;
    next = own;
  }
  return next * cos - afterNext;
}

/** Strikes out of a recursion what swings slower than modes do, or not at all: that would be drift. */
function keepSwings(recursion: readonly number[], rateHz: number): number[] {
  const companion = Matrix.zeros(ORDER, ORDER);
  for (let lag = 0; lag < ORDER; lag++) {
    companion.set(0, lag, recursion[lag]!);
    if (lag > 0) companion.set(lag, lag - 1, 1);
  }
  const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(companion);
  let kept = [1];
  realEigenvalues.forEach((re, i) => {
    const im = imaginaryEigenvalues[i]!;
    if ((Math.atan2(im, re) * rateHz) / (2 * Math.PI) < SLOWEST_SWING_HZ || Math.atan2(im, re) === Math.PI)
      return;
    const pair = [1, -2 * re, re * re + im * im];
    kept = Array.from({ length: kept.length + 2 }, (_, n) =>
      pair.reduce((sum, value, m) => sum + value * (kept[n - m] ?? 0), 0),
    );
  });
  return kept.slice(1).map((value) => -value);
}

/** Least squares by singular values: a dead channel leaves the recursion without a single solution. */
function solveLeast(design: Matrix, right: Matrix): number[] {
  return new SingularValueDecomposition(design, { autoTranspose: true }).solve(right).getColumn(0);
}

function removeMean(samples: Float64Array): Float64Array {
  const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
  return samples.map((value) => value - mean);
}
