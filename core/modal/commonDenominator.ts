import { findRoots } from './findRoots.ts';
import type { Pole } from './poleBasis.ts';

/** Lines of one channel of one strike inside a band, and what its squares count. */
export interface WeightedLines {
  readonly frequenciesHz: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly weight: number;
}

/** A decaying pole of one order, with its residue in each channel up to a factor common to all. */
export interface OrderedPole extends Pole {
  readonly order: number;
  readonly residues: readonly { readonly re: number; readonly im: number }[];
}

/**
 * Share of a full turn that the band takes on the unit circle. A full turn would glue the band's two ends
 * together; much less makes neighbouring powers alike.
 */
const TURN_SHARE = 0.8;
/** Added to the diagonal, as a share of it, against powers that are all but alike on an arc. */
const RIDGE = 1e-11;

/**
 * Fits rational functions with one denominator for all channels and a numerator for each, linear least squares
 * in the coefficients, for every order of the denominator up to `highestOrder`, on a band mapped to an arc of
 * the unit circle, u = exp(-i 2 pi share (f - low) / width): sums of powers are Toeplitz, numerators are
 * eliminated channel by channel, and what is left is one small system whose leading blocks are the systems of
 * all lower orders (Guillaume, Verboven, Vanlanduit, Van der Auweraer & Peeters, A poly-reference implementation
 * of the least-squares complex frequency-domain estimator, 21st International Modal Analysis Conference, 2003:
 * introduction read, the rest from memory).
 * Coefficients are complex, so that the band need
 * not reach 0 Hz. Numerators keep the highest order throughout and stand for the tails of modes outside. With
 * the denominator's highest coefficient held at 1, poles that noise asks for tend to grow and are left out;
 * those that ring decay.
 * @param channels - lines between lowHz and highHz, of one channel more than `highestOrder` at least
 */
export function fitCommonDenominator(
  channels: readonly WeightedLines[],
  lowHz: number,
  highHz: number,
  highestOrder: number,
): OrderedPole[] {
  const size = highestOrder + 1;
  const width = highHz - lowHz;
  const delayS = TURN_SHARE / width;
  const systems = channels.map((channel) => reduceChannel(channel, lowHz, delayS, size));
  const sumRe = new Float64Array(size * size);
  const sumIm = new Float64Array(size * size);
  for (const { leftRe, leftIm } of systems) {
    for (let i = 0; i < sumRe.length; i++) {
      sumRe[i]! += leftRe[i]!;
      sumIm[i]! += leftIm[i]!;
    }
  }
  const poles: OrderedPole[] = [];
  for (let order = 1; order <= highestOrder; order++) {
    const coefficients = solveOrder(sumRe, sumIm, size, order);
    if (coefficients === null) break;
    let numerators: Coefficients[] | null = null;
    for (const [re, im] of findRoots(coefficients)) {
      const decayRate = Math.log(Math.hypot(re, im)) / delayS;
      const angularFrequency = 2 * Math.PI * lowHz - Math.atan2(im, re) / delayS;
      const isInside = angularFrequency > 2 * Math.PI * lowHz && angularFrequency < 2 * Math.PI * highHz;
      if (!(decayRate > 0) || !isInside) continue;
      numerators ??= systems.map((system) => buildNumerator(system, coefficients, size));
      const residues = numerators.map((numerator) => evaluateAt(numerator, re, im));
      poles.push({ order, decayRate, angularFrequency, residues });
    }
  }
  return poles;
}

interface Coefficients {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

interface ReducedChannel {
  /** What the channel leaves of the squares of the denominator's coefficients: T - S* R^-1 S. */
  readonly leftRe: Float64Array;
  readonly leftIm: Float64Array;
  /** R^-1 S: numerator coefficients by denominator coefficients. */
  readonly numeratorRe: Float64Array;
  readonly numeratorIm: Float64Array;
}

function reduceChannel(lines: WeightedLines, lowHz: number, delayS: number, size: number): ReducedChannel {
  const { frequenciesHz, re, im, weight: w } = lines;
  // sums of weight u^m, weight u^m |x|^2 (m from 0) and weight u^m x (m from -size + 1)
  const plainRe = new Float64Array(size);
  const plainIm = new Float64Array(size);
  const powerRe = new Float64Array(size);
  const powerIm = new Float64Array(size);
  const mixedRe = new Float64Array(2 * size - 1);
  const mixedIm = new Float64Array(2 * size - 1);
  for (let k = 0; k < frequenciesHz.length; k++) {
    const angle = -2 * Math.PI * (frequenciesHz[k]! - lowHz) * delayS;
    const turnRe = Math.cos(angle);
    const turnIm = Math.sin(angle);
    const x = re[k]!;
    const y = im[k]!;
    const p = w * (x * x + y * y);
    let a = 1;
    let b = 0;
    for (let m = 0; m < size; m++) {
      plainRe[m]! += w * a;
      plainIm[m]! += w * b;
      powerRe[m]! += p * a;
      powerIm[m]! += p * b;
      mixedRe[size - 1 + m]! += w * (a * x - b * y);
      mixedIm[size - 1 + m]! += w * (a * y + b * x);
      if (m > 0) {
        mixedRe[size - 1 - m]! += w * (a * x + b * y);
        mixedIm[size - 1 - m]! += w * (a * y - b * x);
      }
      const next = a * turnRe - b * turnIm;
      b = a * turnIm + b * turnRe;
      a = next;
    }
  }
  const total = size * size;
  const squareRe = new Float64Array(total);
  const squareIm = new Float64Array(total);
  const numeratorRe = new Float64Array(total);
  const numeratorIm = new Float64Array(total);
  const leftRe = new Float64Array(total);
  const leftIm = new Float64Array(total);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const apart = j - i;
      const at = i * size + j;
      const sign = apart < 0 ? -1 : 1;
      squareRe[at] = plainRe[Math.abs(apart)]!;
      squareIm[at] = sign * plainIm[Math.abs(apart)]!;
      leftRe[at] = powerRe[Math.abs(apart)]!;
      leftIm[at] = sign * powerIm[Math.abs(apart)]!;
      numeratorRe[at] = mixedRe[size - 1 + apart]!;
      numeratorIm[at] = mixedIm[size - 1 + apart]!;
    }
    squareRe[i * size + i]! *= 1 + RIDGE;
  }
  const mixRe = Float64Array.from(numeratorRe);
  const mixIm = Float64Array.from(numeratorIm);
  factorise(squareRe, squareIm, size, size);
  solveFactorised(squareRe, squareIm, size, size, numeratorRe, numeratorIm, size);
  for (let i = 0; i < size; i++) {
    for (let j = i; j < size; j++) {
      let sumRe = 0;
      let sumIm = 0;
      for (let k = 0; k < size; k++) {
        // conjugate of mix[k][i] times numerator[k][j]
        const a = mixRe[k * size + i]!;
        const b = mixIm[k * size + i]!;
        const c = numeratorRe[k * size + j]!;
        const d = numeratorIm[k * size + j]!;
        sumRe += a * c + b * d;
        sumIm += a * d - b * c;
      }
      leftRe[i * size + j]! -= sumRe;
      leftIm[i * size + j]! -= sumIm;
      leftRe[j * size + i] = leftRe[i * size + j]!;
      leftIm[j * size + i] = -leftIm[i * size + j]!;
    }
  }
  return { leftRe, leftIm, numeratorRe, numeratorIm };
}

/** In place, the lower Cholesky factor of the leading `count` rows of a Hermitian matrix with rows of `size`. */
function factorise(re: Float64Array, im: Float64Array, size: number, count: number): boolean {
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      let sumRe = re[i * size + j]!;
      let sumIm = im[i * size + j]!;
      for (let k = 0; k < j; k++) {
        const a = re[i * size + k]!;
        const b = im[i * size + k]!;
        const c = re[j * size + k]!;
        const d = im[j * size + k]!;
        sumRe -= a * c + b * d;
        sumIm -= b * c - a * d;
      }
      if (i === j) {
        if (!(sumRe > 0)) return false;
        re[i * size + i] = Math.sqrt(sumRe);
        im[i * size + i] = 0;
      } else {
        const pivot = re[j * size + j]!;
        re[i * size + j] = sumRe / pivot;
        im[i * size + j] = sumIm / pivot;
      }
    }
  }
  return true;
}

/** Solves, in place, for `columns` right sides kept in rows of `columns`. */
function solveFactorised(
  lowerRe: Float64Array,
  lowerIm: Float64Array,
  size: number,
  count: number,
  re: Float64Array,
  im: Float64Array,
  columns: number,
): void {
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < i; k++) subtractRow(i, k, lowerRe[i * size + k]!, lowerIm[i * size + k]!);
    scaleRow(i, 1 / lowerRe[i * size + i]!);
  }
  for (let i = count - 1; i >= 0; i--) {
    for (let k = i + 1; k < count; k++) subtractRow(i, k, lowerRe[k * size + i]!, -lowerIm[k * size + i]!);
    scaleRow(i, 1 / lowerRe[i * size + i]!);
  }

  function subtractRow(to: number, from: number, a: number, b: number): void {
    for (let c = 0; c < columns; c++) {
      const x = re[from * columns + c]!;
      const y = im[from * columns + c]!;
      re[to * columns + c]! -= a * x - b * y;
      im[to * columns + c]! -= a * y + b * x;
    }
  }

  function scaleRow(row: number, factor: number): void {
    for (let c = 0; c < columns; c++) {
      re[row * columns + c]! *= factor;
      im[row * columns + c]! *= factor;
    }
  }
}

/** Coefficients of u^0 to u^(order - 1), beside 1 for u^order, that leave least over; null where the system is singular. */
function solveOrder(
  sumRe: Float64Array,
  sumIm: Float64Array,
  size: number,
  order: number,
): Coefficients | null {
  const re = new Float64Array(order * order);
  const im = new Float64Array(order * order);
  const rightRe = new Float64Array(order);
  const rightIm = new Float64Array(order);
  for (let i = 0; i < order; i++) {
    rightRe[i] = -sumRe[i * size + order]!;
    rightIm[i] = -sumIm[i * size + order]!;
    for (let j = 0; j < order; j++) {
      re[i * order + j] = sumRe[i * size + j]!;
      im[i * order + j] = sumIm[i * size + j]!;
    }
  }
  if (!factorise(re, im, order, order)) return null;
  solveFactorised(re, im, order, order, rightRe, rightIm, 1);
  return { re: rightRe, im: rightIm };
}

/** Coefficients of the numerator that goes with a denominator. */
function buildNumerator(
  { numeratorRe, numeratorIm }: ReducedChannel,
  denominator: Coefficients,
  size: number,
): Coefficients {
  const order = denominator.re.length;
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const at = i * size;
    let sumRe = numeratorRe[at + order]!;
    let sumIm = numeratorIm[at + order]!;
    for (let j = 0; j < order; j++) {
      const x = denominator.re[j]!;
      const y = denominator.im[j]!;
      const c = numeratorRe[at + j]!;
      const d = numeratorIm[at + j]!;
      sumRe += c * x - d * y;
      sumIm += c * y + d * x;
    }
    re[i] = sumRe;
    im[i] = sumIm;
  }
  return { re, im };
}

/** A polynomial at u = re + i im, by Horner's rule. */
function evaluateAt(polynomial: Coefficients, re: number, im: number): { re: number; im: number } {
  let valueRe = 0;
  let valueIm = 0;
  for (let i = polynomial.re.length - 1; i >= 0; i--) {
    const next = valueRe * re - valueIm * im + polynomial.re[i]!;
    valueIm = valueRe * im + valueIm * re + polynomial.im[i]!;
    valueRe = next;
  }
  return { re: valueRe, im: valueIm };
}
