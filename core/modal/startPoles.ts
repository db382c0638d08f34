import { findRoots } from './findRoots.ts';
import { makeColumns } from './makeColumns.ts';
import type { Pole } from './poleBasis.ts';
import { type Band, countBackgroundTerms } from './prepareBand.ts';

/** Rounds of reweighting; the fit that follows needs a start within its reach, not convergence. */
const ROUNDS = 2;

/** Complex column, real and imaginary parts. */
type Column = { re: Float64Array; im: Float64Array };

/**
 * Estimates `count` poles of a band in closed form, without a first guess: X d(u) = b(u) with one denominator
 * for all channels and a numerator for each, linear in the coefficients, solved again with the weight 1 / |d|
 * of the round before (Steiglitz & McBride, IEEE Trans. Automat. Contr. 10, 1965, 461-464; in the frequency
 * domain Sanathanan & Koerner 1963). u is a scaled w = exp(-i omega / rate) that runs from about -1 to 1 over
 * the band, in which a sampled decay is exactly rational and powers stay well conditioned. Numerators are
 * eliminated by an orthogonal basis, so only the `count` coefficients of d are solved for.
 * @returns the poles; some may lie out of the band or grow, which the caller judges
 */
export function startPoles(band: Band, count: number): Pole[] {
  const { frequenciesHz: f, sampleRateHz, channels } = band.lines;
  const n = f.length;
  const middle = (f[0]! + f[n - 1]!) / 2;
  const spread = (Math.PI * (f[n - 1]! - f[0]!)) / sampleRateHz;
  const [u] = makeComplexColumns(1, n) as [Column];
  for (let k = 0; k < n; k++) {
    const delta = (2 * Math.PI * (f[k]! - middle)) / sampleRateHz;
    // (exp(-i delta) - 1) / (-i spread)
    u.re[k] = Math.sin(delta) / spread;
    u.im[k] = (-2 * Math.sin(delta / 2) ** 2) / spread;
  }
  const powers = raise(u, count + countBackgroundTerms(n) + (band.hasDrift ? 1 : 0));
  const numerator = makeComplexColumns(powers.length, n);
  const stacked = makeComplexColumns(count + 1, n * channels.length);
  const weight = new Float64Array(n).fill(1);
  let roots: [number, number][] = [];
  for (let round = 0; round < ROUNDS; round++) {
    numerator.forEach((column, i) => {
      weigh(powers[i]!, weight, column);
    });
    const coefficients = solveDenominator(
      channels,
      powers,
      weight,
      orthonormaliseComplex(numerator),
      stacked,
    );
    if (coefficients === null) break;
    roots = findRoots(coefficients);
    const re = Float64Array.from(roots, (root) => root[0]);
    const im = Float64Array.from(roots, (root) => root[1]);
    for (let k = 0; k < n; k++) {
      let square = 1;
      for (let r = 0; r < re.length; r++) square *= (u.re[k]! - re[r]!) ** 2 + (u.im[k]! - im[r]!) ** 2;
      weight[k] = 1 / Math.max(Math.sqrt(square), Number.EPSILON);
    }
  }
  return roots.map(([re, im]) => {
    // w / w0 = 1 - i spread u; s = i omega0 - rate ln(w / w0)
    const a = spread * im;
    const b = -spread * re;
    return {
      decayRate: sampleRateHz * 0.5 * Math.log1p(2 * a + a * a + b * b),
      angularFrequency: 2 * Math.PI * middle - sampleRateHz * Math.atan2(b, 1 + a),
    };
  });
}

function raise(u: Column, count: number): Column[] {
  const n = u.re.length;
  const powers = makeComplexColumns(count, n);
  powers[0]!.re.fill(1);
  for (let p = 1; p < count; p++) {
    const last = powers[p - 1]!;
    const next = powers[p]!;
    for (let k = 0; k < n; k++) {
      next.re[k] = last.re[k]! * u.re[k]! - last.im[k]! * u.im[k]!;
      next.im[k] = last.re[k]! * u.im[k]! + last.im[k]! * u.re[k]!;
    }
  }
  return powers;
}

function makeComplexColumns(count: number, length: number): Column[] {
  const all = makeColumns(2 * count, length);
  return Array.from({ length: count }, (_, i) => ({ re: all[2 * i]!, im: all[2 * i + 1]! }));
}

function weigh(column: Column, weight: Float64Array, into: Column): void {
  for (let k = 0; k < weight.length; k++) {
    into.re[k] = column.re[k]! * weight[k]!;
    into.im[k] = column.im[k]! * weight[k]!;
  }
}

/** Takes from `column` its share along unit `unit`, and gives that share. */
function removeShare({ re: x, im: y }: Column, { re: a, im: b }: Column): [re: number, im: number] {
  const n = a.length;
  let ax = 0;
  let by = 0;
  let ay = 0;
  let bx = 0;
  for (let k = 0; k < n; k++) {
    ax += a[k]! * x[k]!;
    by += b[k]! * y[k]!;
    ay += a[k]! * y[k]!;
    bx += b[k]! * x[k]!;
  }
  const re = ax + by;
  const im = ay - bx;
  for (let k = 0; k < n; k++) {
    const c = a[k]!;
    const d = b[k]!;
    x[k]! -= re * c - im * d;
    y[k]! -= re * d + im * c;
  }
  return [re, im];
}

/** Makes its length 1 and gives the length it had; a column of nothing is left alone. */
function normalise({ re, im }: Column): number {
  let square = 0;
  for (let k = 0; k < re.length; k++) square += re[k]! * re[k]! + im[k]! * im[k]!;
  const length = Math.sqrt(square);
  if (!(length > 0)) return 0;
  for (let k = 0; k < re.length; k++) {
    re[k]! /= length;
    im[k]! /= length;
  }
  return length;
}

function orthonormaliseComplex(columns: readonly Column[]): Column[] {
  const basis: Column[] = [];
  for (const column of columns) {
    for (const unit of basis) removeShare(column, unit);
    if (normalise(column) > 0) basis.push(column);
  }
  return basis;
}

/**
 * Coefficients a[0..count-1] of the monic denominator, least squares over all channels.
 * @param stacked - count + 1 columns over all channels to work in
 */
function solveDenominator(
  channels: readonly Column[],
  powers: readonly Column[],
  weight: Float64Array,
  numerator: readonly Column[],
  stacked: readonly Column[],
): Column | null {
  const n = weight.length;
  const count = stacked.length - 1;
  // the channels one after another, each with its numerator eliminated
  for (let c = 0; c < channels.length; c++) {
    const x = channels[c]!;
    let energy = 0;
    for (let k = 0; k < n; k++) energy += x.re[k]! ** 2 + x.im[k]! ** 2;
    const scale = energy > 0 ? 1 / Math.sqrt(energy) : 0;
    for (let j = 0; j <= count; j++) {
      const power = powers[j]!;
      const own = stacked[j]!;
      const column = { re: own.re.subarray(c * n, (c + 1) * n), im: own.im.subarray(c * n, (c + 1) * n) };
      for (let k = 0; k < n; k++) {
        const w = weight[k]! * scale;
        column.re[k] = w * (power.re[k]! * x.re[k]! - power.im[k]! * x.im[k]!);
        column.im[k] = w * (power.re[k]! * x.im[k]! + power.im[k]! * x.re[k]!);
      }
      for (const unit of numerator) removeShare(column, unit);
    }
  }
  return solveComplexLeastSquares(stacked.slice(0, count), stacked[count]!);
}

/** Minimises |sum a[j] columns[j] + last|; the columns are used up. */
function solveComplexLeastSquares(columns: readonly Column[], last: Column): Column | null {
  const m = columns.length;
  const upper: [number, number][][] = columns.map(() => []);
  const right: [number, number][] = [];
  for (let i = 0; i < m; i++) {
    const unit = columns[i]!;
    const length = normalise(unit);
    if (length === 0) return null;
    upper[i]![i] = [length, 0];
    for (let j = i + 1; j < m; j++) upper[i]![j] = removeShare(columns[j]!, unit);
    right[i] = removeShare(last, unit);
  }
  const solution: Column = { re: new Float64Array(m), im: new Float64Array(m) };
  for (let i = m - 1; i >= 0; i--) {
    let [re, im] = right[i]!;
    re = -re;
    im = -im;
    for (let j = i + 1; j < m; j++) {
      const [a, b] = upper[i]![j]!;
      const x = solution.re[j]!;
      const y = solution.im[j]!;
      re -= a * x - b * y;
      im -= a * y + b * x;
    }
    solution.re[i] = re / upper[i]![i]![0];
    solution.im[i] = im / upper[i]![i]![0];
  }
  return solution;
}
