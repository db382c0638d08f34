import { factorCholesky, solveLower, solveUpper } from '../../cholesky.ts';
import { correlateBlock } from '../../kernel/index.ts';
import { takeQuantile } from '../takeQuantile.ts';

/** Rounds of re-weighting; the weights have settled after three. */
const ROUNDS = 3;
/** Cauchy weight: a residual of this many usual ones counts half. */
const USUAL_RESIDUALS = 3;
/** Keeps the equations solvable where there are fewer modes than coefficients. */
const RIDGE = 1e-9;

/**
 * Computes what a free decay does not explain: the part of each sample that linear prediction from the
 * `order` samples after it leaves over. A sum of damped sines is predicted exactly, so impacts stand out;
 * predicting backwards (Kumaresan and Tufts 1982, IEEE Trans. Acoust. Speech Signal Process. 30(6):833-840),
 * an impact spoils what comes before it and nothing after. All channels share the coefficients, for they ring
 * at the same frequencies. The fit is weighted by the local level, so that the whole decay counts, and
 * re-weighted, so that an impact within it does not pull it along.
 * @param channels - samples from before the onset on, equally long
 * @param fitFrom - first sample that the fit takes as free decay
 * @returns residuals of all channels together (root of the sum of squares), 0 for the last `order` samples;
 *   null where there are fewer equations than twice the coefficients
 */
export function predictDecay(
  channels: readonly Float64Array[],
  order: number,
  fitFrom: number,
): Float64Array | null {
  const count = channels[0]!.length;
  if (channels.length * (count - order - fitFrom) < 2 * order) return null;
  const levels = channels.map((samples) => readLocalLevel(samples, order));
  const residuals = channels.map(() => new Float64Array(count));
  const robust = channels.map(() => new Float64Array(count).fill(1));
  for (let round = 0; round < ROUNDS; round++) {
    const coefficients = fitCoefficients(channels, levels, robust, order, fitFrom);
    if (coefficients === null) return null;
    channels.forEach((samples, c) => {
      fillResiduals(samples, coefficients, residuals[c]!);
    });
    updateWeights(residuals, levels, fitFrom, order, robust);
  }
  const together = new Float64Array(count);
  for (const residual of residuals)
    for (let i = 0; i < count; i++) together[i] = Math.hypot(together[i]!, residual[i]!);
  return together;
}

/** Root mean square of the `order` samples after each, with a floor of a millionth of the largest. */
function readLocalLevel(samples: Float64Array, order: number): Float64Array {
  const level = new Float64Array(samples.length);
  let squares = 0;
  let largest = 0;
  for (let i = samples.length - 1; i >= 0; i--) {
    level[i] = Math.sqrt(Math.max(squares, 0) / order);
    largest = Math.max(largest, level[i]!);
    squares += samples[i]! ** 2 - (i + order < samples.length ? samples[i + order]! ** 2 : 0);
  }
  // A dead channel weighs nothing, whatever its level is said to be.
  for (let i = 0; i < level.length; i++) level[i] = largest === 0 ? 1 : Math.max(level[i]!, 1e-6 * largest);
  return level;
}

function fitCoefficients(
  channels: readonly Float64Array[],
  levels: readonly Float64Array[],
  robust: readonly Float64Array[],
  order: number,
  fitFrom: number,
): Float64Array | null {
  const normal = new Float64Array(order * order);
  const right = new Float64Array(order);
  channels.forEach((samples, c) => {
    addEquations(samples, levels[c]!, robust[c]!, order, fitFrom, normal, right);
  });
  let trace = 0;
  for (let a = 0; a < order; a++) trace += normal[a * order + a]!;
  for (let a = 0; a < order; a++) normal[a * order + a]! += (RIDGE * trace) / order;
  return factorCholesky(order, normal) ? solveUpper(normal, solveLower(normal, right)) : null;
}

/**
 * Adds the weighted equations of one channel to the lower half of the normal matrix, one diagonal after the other: entries of one are
 * products of samples equally far apart, weighed by the same weights a sample further on each.
 */
function addEquations(
  samples: Float64Array,
  level: Float64Array,
  robust: Float64Array,
  order: number,
  fitFrom: number,
  normal: Float64Array,
  right: Float64Array,
): void {
  const weights = new Float64Array(samples.length - order - fitFrom);
  for (let i = 0; i < weights.length; i++) weights[i] = robust[fitFrom + i]! / level[fitFrom + i]! ** 2;
  const products = new Float64Array(weights.length + order);
  const sums = new Float64Array(order + 1);
  for (let apart = 0; apart <= order; apart++) {
    const along = order - apart;
    for (let i = 0; i < weights.length + along; i++)
      products[i] = samples[fitFrom + i]! * samples[fitFrom + i + apart]!;
    correlateBlock(products, weights, 1, sums.subarray(0, along + 1));
    if (apart > 0) right[apart - 1]! += sums[0]!;
    for (let b = 0; b < along; b++) normal[(b + apart) * order + b]! += sums[b + 1]!;
  }
}

function fillResiduals(samples: Float64Array, coefficients: Float64Array, into: Float64Array): void {
  const order = coefficients.length;
  for (let i = 0; i < samples.length - order; i++) {
    // two sums, since one would wait for itself
    let even = 0;
    let odd = 0;
    for (let a = 0; a + 1 < order; a += 2) {
      even += coefficients[a]! * samples[i + 1 + a]!;
      odd += coefficients[a + 1]! * samples[i + 2 + a]!;
    }
    if (order % 2 === 1) even += coefficients[order - 1]! * samples[i + order]!;
    into[i] = samples[i]! - (even + odd);
  }
}

function updateWeights(
  residuals: readonly Float64Array[],
  levels: readonly Float64Array[],
  fitFrom: number,
  order: number,
  into: readonly Float64Array[],
): void {
  const each = residuals[0]!.length - order - fitFrom;
  const relative = new Float64Array(each * residuals.length);
  for (let c = 0; c < residuals.length; c++) {
    const residual = residuals[c]!;
    const level = levels[c]!;
    const at = c * each - fitFrom;
    for (let i = fitFrom; i < fitFrom + each; i++) relative[at + i] = Math.abs(residual[i]!) / level[i]!;
  }
  const usual = Math.max(takeQuantile(relative, 0.5), Number.MIN_VALUE);
  for (let c = 0; c < residuals.length; c++) {
    const residual = residuals[c]!;
    const level = levels[c]!;
    const weights = into[c]!;
    for (let i = 0; i < residual.length; i++)
      weights[i] = 1 / (1 + (residual[i]! / level[i]! / (USUAL_RESIDUALS * usual)) ** 2);
  }
}
