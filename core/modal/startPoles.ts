import { findRoots } from './findRoots.ts';
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
  const u: Column = { re: new Float64Array(n), im: new Float64Array(n) };
  for (let k = 0; k < n; k++) {
    const delta = (2 * Math.PI * (f[k]! - middle)) / sampleRateHz;
    // (exp(-i delta) - 1) / (-i spread)
    u.re[k] = Math.sin(delta) / spread;
    u.im[k] = (-2 * Math.sin(delta / 2) ** 2) / spread;
  }
  const powers = raise(u, count + countBackgroundTerms(n) + (band.hasDrift ? 1 : 0));
  const weight = new Float64Array(n).fill(1);
  let roots: [number, number][] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const numerator = orthonormaliseComplex(powers.map((column) => weigh(column, weight)));
    const coefficients = solveDenominator(channels, powers, weight, numerator, count);
    if (coefficients === null) break;
    roots = findRoots(coefficients);
    for (let k = 0; k < n; k++) {
      let square = 1;
      for (const [re, im] of roots) square *= (u.re[k]! - re) ** 2 + (u.im[k]! - im) ** 2;
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
  const powers: Column[] = [{ re: new Float64Array(n).fill(1), im: new Float64Array(n) }];
  while (powers.length < count) {
    const last = powers[powers.length - 1]!;
    const next = { re: new Float64Array(n), im: new Float64Array(n) };
    for (let k = 0; k < n; k++) {
      next.re[k] = last.re[k]! * u.re[k]! - last.im[k]! * u.im[k]!;
      next.im[k] = last.re[k]! * u.im[k]! + last.im[k]! * u.re[k]!;
    }
    powers.push(next);
  }
  return powers;
}

function weigh(column: Column, weight: Float64Array): Column {
  const n = weight.length;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    re[k] = column.re[k]! * weight[k]!;
    im[k] = column.im[k]! * weight[k]!;
  }
  return { re, im };
}

/** Takes from `column` its share along unit `unit`. */
function removeShare(column: Column, unit: Column): void {
  const { re: a, im: b } = unit;
  const { re: x, im: y } = column;
  const n = a.length;
  let re = 0;
  let im = 0;
  for (let k = 0; k < n; k++) {
    re += a[k]! * x[k]! + b[k]! * y[k]!;
    im += a[k]! * y[k]! - b[k]! * x[k]!;
  }
  for (let k = 0; k < n; k++) {
    x[k]! -= re * a[k]! - im * b[k]!;
    y[k]! -= re * b[k]! + im * a[k]!;
  }
}

function orthonormaliseComplex(columns: readonly Column[]): Column[] {
  const basis: Column[] = [];
  for (const column of columns) {
    for (const unit of basis) removeShare(column, unit);
    let square = 0;
    for (let k = 0; k < column.re.length; k++) square += column.re[k]! ** 2 + column.im[k]! ** 2;
    const length = Math.sqrt(square);
    if (!(length > 0)) continue;
    for (let k = 0; k < column.re.length; k++) {
      column.re[k]! /= length;
      column.im[k]! /= length;
    }
    basis.push(column);
  }
  return basis;
}

/** Coefficients a[0..count-1] of the monic denominator, least squares over all channels. */
function solveDenominator(
  channels: readonly Column[],
  powers: readonly Column[],
  weight: Float64Array,
  numerator: readonly Column[],
  count: number,
): Column | null {
  const n = weight.length;
  // stack the channels, each with its numerator eliminated
  const stacked = Array.from({ length: count + 1 }, () => ({
    re: new Float64Array(n * channels.length),
    im: new Float64Array(n * channels.length),
  }));
  channels.forEach((x, c) => {
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
  });
  return solveComplexLeastSquares(stacked.slice(0, count), stacked[count]!);
}

/** Minimises |sum a[j] columns[j] + last|. */
function solveComplexLeastSquares(columns: readonly Column[], last: Column): Column | null {
  const m = columns.length;
  const upper: [number, number][][] = columns.map(() => []);
  const right: [number, number][] = [];
  const inner = (a: Column, b: Column): [number, number] => {
    let re = 0;
    let im = 0;
    for (let k = 0; k < a.re.length; k++) {
      re += a.re[k]! * b.re[k]! + a.im[k]! * b.im[k]!;
      im += a.re[k]! * b.im[k]! - a.im[k]! * b.re[k]!;
    }
    return [re, im];
  };
  for (let i = 0; i < m; i++) {
    const unit = columns[i]!;
    const length = Math.sqrt(inner(unit, unit)[0]);
    if (!(length > 0)) return null;
    for (let k = 0; k < unit.re.length; k++) {
      unit.re[k]! /= length;
      unit.im[k]! /= length;
    }
    upper[i]![i] = [length, 0];
    for (let j = i + 1; j < m; j++) {
      upper[i]![j] = inner(unit, columns[j]!);
      removeShare(columns[j]!, unit);
    }
    right[i] = inner(unit, last);
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
