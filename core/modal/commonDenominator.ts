import { findRoots } from './findRoots.ts';
import { factoriseHermitian, solveHermitian } from './hermitian.ts';
import { makeColumns } from './makeColumns.ts';
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
  // channels of one strike lie over the same lines
  const arcs = new Map<Float64Array, Arc>();
  const systems = channels.map((channel) => {
    const { frequenciesHz } = channel;
    const arc = arcs.get(frequenciesHz) ?? layOutArc(frequenciesHz, lowHz, delayS, size);
    arcs.set(frequenciesHz, arc);
    return reduceChannel(channel, arc);
  });
  const sumRe = new Float64Array(size * size);
  const sumIm = new Float64Array(size * size);
  for (const { left } of systems) {
    for (let i = 0; i < sumRe.length; i++) {
      sumRe[i]! += left.re[i]!;
      sumIm[i]! += left.im[i]!;
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
  readonly left: Coefficients;
  /** R^-1 S: numerator coefficients by denominator coefficients. */
  readonly numerator: Coefficients;
}

/** What all channels over the same lines share. */
interface Arc {
  /** Powers u^0 to u^(size - 1), each over the lines. */
  readonly powers: readonly Coefficients[];
  /** Cholesky factor of the sums of conj(u^i) u^j: R. */
  readonly factor: Coefficients;
}

function layOutArc(frequenciesHz: Float64Array, lowHz: number, delayS: number, size: number): Arc {
  const n = frequenciesHz.length;
  const columns = makeColumns(2 * size, n);
  const powers = Array.from({ length: size }, (_, m) => ({ re: columns[2 * m]!, im: columns[2 * m + 1]! }));
  for (let k = 0; k < n; k++) {
    const angle = -2 * Math.PI * (frequenciesHz[k]! - lowHz) * delayS;
    const turnRe = Math.cos(angle);
    const turnIm = Math.sin(angle);
    let a = 1;
    let b = 0;
    for (let m = 0; m < size; m++) {
      powers[m]!.re[k] = a;
      powers[m]!.im[k] = b;
      const next = a * turnRe - b * turnIm;
      b = a * turnIm + b * turnRe;
      a = next;
    }
  }
  const factor = { re: new Float64Array(size * size), im: new Float64Array(size * size) };
  for (let m = 0; m < size; m++) {
    let sumRe = 0;
    let sumIm = 0;
    for (let k = 0; k < n; k++) {
      sumRe += powers[m]!.re[k]!;
      sumIm += powers[m]!.im[k]!;
    }
    fillDiagonals(factor, size, m, sumRe, sumIm);
  }
  for (let i = 0; i < size; i++) factor.re[i * size + i]! *= 1 + RIDGE;
  factoriseHermitian(factor.re, factor.im, size, size);
  return { powers, factor };
}

/** Sets both diagonals that lie `apart` from the middle of a Hermitian Toeplitz matrix. */
function fillDiagonals(into: Coefficients, size: number, apart: number, re: number, im: number): void {
  for (let i = 0; i + apart < size; i++) {
    const above = i * size + i + apart;
    const below = (i + apart) * size + i;
    into.re[below] = re;
    into.im[below] = -im;
    into.re[above] = re;
    into.im[above] = im;
  }
}

function reduceChannel(lines: WeightedLines, { powers, factor }: Arc): ReducedChannel {
  const { re, im, weight } = lines;
  const n = re.length;
  const size = powers.length;
  const total = size * size;
  const left = { re: new Float64Array(total), im: new Float64Array(total) };
  const mixed = { re: new Float64Array(total), im: new Float64Array(total) };
  const power = new Float64Array(n);
  for (let k = 0; k < n; k++) power[k] = re[k]! * re[k]! + im[k]! * im[k]!;
  // sums of u^m |x|^2 (T), and of u^m x and conj(u^m) x (S)
  for (let m = 0; m < size; m++) {
    const own = powers[m]!;
    let powerRe = 0;
    let powerIm = 0;
    let ax = 0;
    let by = 0;
    let ay = 0;
    let bx = 0;
    for (let k = 0; k < n; k++) {
      const a = own.re[k]!;
      const b = own.im[k]!;
      powerRe += a * power[k]!;
      powerIm += b * power[k]!;
      ax += a * re[k]!;
      by += b * im[k]!;
      ay += a * im[k]!;
      bx += b * re[k]!;
    }
    fillDiagonals(left, size, m, powerRe, powerIm);
    for (let i = 0; i + m < size; i++) {
      const above = i * size + i + m;
      const below = (i + m) * size + i;
      mixed.re[below] = ax + by;
      mixed.im[below] = ay - bx;
      mixed.re[above] = ax - by;
      mixed.im[above] = ay + bx;
    }
  }
  const numerator = { re: mixed.re.slice(), im: mixed.im.slice() };
  solveHermitian(factor.re, factor.im, size, size, numerator.re, numerator.im, size);
  for (let i = 0; i < size; i++) {
    for (let j = i; j < size; j++) {
      let sumRe = left.re[i * size + j]!;
      let sumIm = left.im[i * size + j]!;
      for (let k = 0; k < size; k++) {
        // conjugate of mixed[k][i] times numerator[k][j]
        const a = mixed.re[k * size + i]!;
        const b = mixed.im[k * size + i]!;
        const c = numerator.re[k * size + j]!;
        const d = numerator.im[k * size + j]!;
        sumRe -= a * c + b * d;
        sumIm -= a * d - b * c;
      }
      left.re[i * size + j] = weight * sumRe;
      left.im[i * size + j] = weight * sumIm;
      left.re[j * size + i] = weight * sumRe;
      left.im[j * size + i] = -weight * sumIm;
    }
  }
  return { left, numerator };
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
  if (!factoriseHermitian(re, im, order, order)) return null;
  solveHermitian(re, im, order, order, rightRe, rightIm, 1);
  return { re: rightRe, im: rightIm };
}

/** Coefficients of the numerator that goes with a denominator. */
function buildNumerator(
  { numerator }: ReducedChannel,
  denominator: Coefficients,
  size: number,
): Coefficients {
  const order = denominator.re.length;
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const at = i * size;
    let sumRe = numerator.re[at + order]!;
    let sumIm = numerator.im[at + order]!;
    for (let j = 0; j < order; j++) {
      const x = denominator.re[j]!;
      const y = denominator.im[j]!;
      const c = numerator.re[at + j]!;
      const d = numerator.im[at + j]!;
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
