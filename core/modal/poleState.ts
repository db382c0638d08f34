import { makeColumns } from './makeColumns.ts';
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

/** Arrays to work in: a search takes them in turns, since each of its steps would allocate some. */
export interface Workspace {
  /** As long as the columns of a band. */
  readonly columns: readonly Float64Array[];
  /** One a channel. */
  readonly residuals: readonly Float64Array[];
}

export function createWorkspace(band: Band, columns: number): Workspace {
  const all = makeColumns(columns + band.remainders.length, 2 * band.lines.frequenciesHz.length);
  return { columns: all.slice(0, columns), residuals: all.slice(columns) };
}

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
  /** What holds the columns and the residuals. */
  readonly work: Workspace;
}

/**
 * Fits the residues of given poles, with the background eliminated, and measures what is left over.
 * @param work - of two columns a pole
 */
export function evaluatePoles(
  band: Band,
  poles: readonly Pole[],
  work = createWorkspace(band, 2 * poles.length),
): PoleState {
  const { frequenciesHz, noisePower } = band.lines;
  const n = frequenciesHz.length;
  const columns = factorise(band, poles, work.columns);
  const squares: number[] = [];
  const residues: Float64Array[] = [];
  let deviance = columns.isFull ? 0 : Number.POSITIVE_INFINITY;
  band.remainders.forEach((remainder, c) => {
    const residual = work.residuals[c]!;
    residual.set(remainder);
    const shares = new Float64Array(2 * poles.length);
    projectOut(residual, columns.basis, columns.basis.length, shares);
    const least = n * noisePower[c]! + ROUNDING_SHARE * multiplyColumns(remainder, remainder);
    const square = Math.max(multiplyColumns(residual, residual), least, Number.MIN_VALUE);
    squares.push(square);
    deviance += 2 * n * Math.log(square / n);
    residues.push(solveShares(columns, shares));
  });
  return {
    poles,
    residues,
    residuals: work.residuals,
    squares,
    deviance: Number.isNaN(deviance) ? Number.POSITIVE_INFINITY : deviance,
    columns,
    work,
  };
}

function factorise(band: Band, poles: readonly Pole[], columns: readonly Float64Array[]): Factored {
  const { frequenciesHz, sampleRateHz } = band.lines;
  poles.forEach((pole, m) => {
    const direct = columns[2 * m]!;
    const mirror = columns[2 * m + 1]!;
    fillPoleTerm(direct, null, pole, 1, frequenciesHz, sampleRateHz);
    fillPoleTerm(mirror, null, pole, -1, frequenciesHz, sampleRateHz);
    combinePair(direct, mirror);
  });
  for (const column of columns) projectOutBackground(column, band);
  return orthonormalise(columns);
}

/**
 * Downhill gradient and curvature of half the deviance by decay rate and angular frequency of each pole. With
 * r the residue, the model moves by -(Re r A + Im r B) with the decay rate and by Re r B - Im r A with the
 * frequency, A = D + M and B = i (D - M), where D and M are the slopes of the pole's and its conjugate's
 * term; so two columns a pole serve all channels. `leftOver` stands for the residuals where the answer to
 * something else is asked for.
 * @param work - of two columns a pole and one more
 */
export function linearisePoles(
  band: Band,
  state: PoleState,
  leftOver: readonly Float64Array[] = state.residuals,
  work = createWorkspace(band, 2 * state.poles.length + 1),
): { gradient: number[]; curvature: number[][] } {
  const { frequenciesHz, sampleRateHz } = band.lines;
  const n = frequenciesHz.length;
  const size = 2 * state.poles.length;
  const columns = work.columns;
  const term = columns[size]!;
  state.poles.forEach((pole, m) => {
    const direct = columns[2 * m]!;
    const mirror = columns[2 * m + 1]!;
    fillPoleTerm(term, direct, pole, 1, frequenciesHz, sampleRateHz);
    fillPoleTerm(term, mirror, pole, -1, frequenciesHz, sampleRateHz);
    combinePair(direct, mirror);
  });
  for (let i = 0; i < size; i++) {
    projectOutBackground(columns[i]!, band);
    projectOut(columns[i]!, state.columns.basis);
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
  for (let c = 0; c < leftOver.length; c++) {
    const residual = leftOver[c]!;
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
  }
  return { gradient, curvature };
}
