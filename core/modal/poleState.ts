import {
  type Factored,
  multiplyColumns,
  orthonormalise,
  projectOut,
  solveShares,
} from './orthogonalColumns.ts';
import { combinePair, fillPoleTerm, type Pole } from './poleBasis.ts';
import { type Band, projectOutBackground } from './prepareBand.ts';

/** Residuals below this share of the data's energy are rounding. */
const ROUNDING_SHARE = 1e-28;

/** Poles in a band with all that follows from them. */
export interface PoleState {
  readonly poles: readonly Pole[];
  /** Coefficients of the poles' columns by channel: real and imaginary part of each residue. */
  readonly residues: readonly Float64Array[];
  readonly residuals: readonly Float64Array[];
  /** Sum of |residual|^2 by channel, not below what noise must leave. */
  readonly squares: readonly number[];
  /** Minus twice the log likelihood, up to a constant. */
  readonly deviance: number;
  /** The poles' columns, free of background. */
  readonly columns: Factored;
}

/** Fits the residues of given poles, with the background eliminated, and measures what is left over. */
export function evaluatePoles(band: Band, poles: readonly Pole[]): PoleState {
  const { frequenciesHz, noisePower } = band.lines;
  const n = frequenciesHz.length;
  const columns = factorise(band, poles);
  const residuals: Float64Array[] = [];
  const squares: number[] = [];
  const residues: Float64Array[] = [];
  let deviance = columns.isFull ? 0 : Number.POSITIVE_INFINITY;
  band.remainders.forEach((remainder, c) => {
    const residual = remainder.slice();
    const shares = new Float64Array(2 * poles.length);
    projectOut(residual, columns.basis, columns.basis.length, shares);
    residuals.push(residual);
    const least = n * noisePower[c]! + ROUNDING_SHARE * multiplyColumns(remainder, remainder);
    const square = Math.max(multiplyColumns(residual, residual), least, Number.MIN_VALUE);
    squares.push(square);
    deviance += 2 * n * Math.log(square / n);
    residues.push(solveShares(columns, shares));
  });
  return {
    poles,
    residues,
    residuals,
    squares,
    deviance: Number.isNaN(deviance) ? Number.POSITIVE_INFINITY : deviance,
    columns,
  };
}

function factorise(band: Band, poles: readonly Pole[]): Factored {
  const { frequenciesHz, sampleRateHz } = band.lines;
  const n = frequenciesHz.length;
  const columns: Float64Array[] = [];
  for (const pole of poles) {
    const direct = new Float64Array(2 * n);
    const mirror = new Float64Array(2 * n);
    fillPoleTerm(direct, null, pole, 1, frequenciesHz, sampleRateHz);
    fillPoleTerm(mirror, null, pole, -1, frequenciesHz, sampleRateHz);
    columns.push(...combinePair(direct, mirror));
  }
  for (const column of columns) projectOutBackground(column, band);
  return orthonormalise(columns);
}

/**
 * Downhill gradient and curvature of half the deviance by decay rate and angular frequency of each pole. With
 * r the residue, the model moves by -(Re r A + Im r B) with the decay rate and by Re r B - Im r A with the
 * frequency, A = D + M and B = i (D - M), where D and M are the slopes of the pole's and its conjugate's
 * term; so two columns a pole serve all channels. `leftOver` stands for the residuals where the answer to
 * something else is asked for.
 */
export function linearisePoles(
  band: Band,
  state: PoleState,
  leftOver: readonly Float64Array[] = state.residuals,
): { gradient: number[]; curvature: number[][] } {
  const { frequenciesHz, sampleRateHz } = band.lines;
  const n = frequenciesHz.length;
  const size = 2 * state.poles.length;
  const term = new Float64Array(2 * n);
  const columns: Float64Array[] = [];
  for (const pole of state.poles) {
    const direct = new Float64Array(2 * n);
    const mirror = new Float64Array(2 * n);
    fillPoleTerm(term, direct, pole, 1, frequenciesHz, sampleRateHz);
    fillPoleTerm(term, mirror, pole, -1, frequenciesHz, sampleRateHz);
    columns.push(...combinePair(direct, mirror));
  }
  for (const column of columns) {
    projectOutBackground(column, band);
    projectOut(column, state.columns.basis);
  }
  const products = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = i; j < size; j++) {
      products[i * size + j] = multiplyColumns(columns[i]!, columns[j]!);
      products[j * size + i] = products[i * size + j]!;
    }
  }
  const gradient = new Array<number>(size).fill(0);
  const curvature = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const slopes = new Float64Array(size);
  const ofA = new Float64Array(size);
  const ofB = new Float64Array(size);
  leftOver.forEach((residual, c) => {
    // one real component has half of the noise of a complex line
    const weight = (2 * n) / state.squares[c]!;
    const residues = state.residues[c]!;
    for (let m = 0; m < size; m += 2) {
      const re = residues[m]!;
      const im = residues[m + 1]!;
      ofA[m] = -re;
      ofB[m] = -im;
      ofA[m + 1] = -im;
      ofB[m + 1] = re;
      slopes[m] = multiplyColumns(columns[m]!, residual);
      slopes[m + 1] = multiplyColumns(columns[m + 1]!, residual);
    }
    for (let i = 0; i < size; i++) {
      const a = i - (i % 2);
      gradient[i]! += weight * (ofA[i]! * slopes[a]! + ofB[i]! * slopes[a + 1]!);
      for (let j = 0; j < size; j++) {
        const b = j - (j % 2);
        const withA = ofA[i]! * products[a * size + b]! + ofB[i]! * products[(a + 1) * size + b]!;
        const withB = ofA[i]! * products[a * size + b + 1]! + ofB[i]! * products[(a + 1) * size + b + 1]!;
        curvature[i]![j]! += weight * (ofA[j]! * withA + ofB[j]! * withB);
      }
    }
  });
  return { gradient, curvature };
}
