import type { Factored } from './orthogonalColumns.ts';
import type { Pole } from './poleBasis.ts';
import { createWorkspace, evaluatePoles, linearisePoles, type PoleState } from './poleState.ts';
import { type Band, countBackgroundParameters } from './prepareBand.ts';
import { invertSymmetric, solveSymmetric } from './solveSymmetric.ts';
import { startPoles } from './startPoles.ts';
import type { MeasuredValue } from './strikeSegment.ts';

/** One pole of a fit with its share in each channel. */
export interface FittedPole extends Pole {
  /** |s| / 2 pi, the undamped natural frequency. */
  readonly frequencyHz: MeasuredValue;
  /** decayRate / |s|; below 0 for an oscillation that grows. */
  readonly dampingRatio: MeasuredValue;
  /**
   * Complex coefficient of 1 / (1 - z w) by channel: first amplitude times (1 - z^N), for a decay of N
   * samples.
   */
  readonly residues: readonly { readonly re: number; readonly im: number }[];
  /**
   * Energy of the fitted peak, as far as the background could not stand for it, over the noise of one line,
   * by channel, in dB.
   */
  readonly peakDb: readonly number[];
}

/** Poles common to all channels of a band. Not converging is a result, not an error. */
export interface PoleFit {
  readonly poles: readonly FittedPole[];
  /** Root mean square of |residual| of one line, by channel. */
  readonly noise: readonly number[];
  /** Information criterion; the lower the better, comparable within one band and the same channels. */
  readonly criterion: number;
  /** Whether the residuals look like noise, so that further poles have nothing left to explain. */
  readonly isWhite: boolean;
  readonly converged: boolean;
  readonly iterations: number;
  readonly message: string;
}

const MOST_ITERATIONS = 15;
/** Squared length of a step, in units of the standard deviations, below which nothing is gained any more. */
const CONVERGED_STEP = 1e-3;
/** A fit gives up after some steps where even so many times the gain in sight would leave it no better than others. */
const HOPEFUL_STEPS = 4;
const HOPED_GAINS = 10;
const FIRST_DAMPING = 1e-3;
const DAMPING_FACTOR = 8;
const MOST_DAMPING = 1e8;
/** A start may lie beyond the band by this share of its half width: the tail of a neighbour. */
const START_REACH = 1.5;
/** Price of a parameter that is searched for, in linear coefficients. */
const POLE_PRICE = 3;
/**
 * Correlation of neighbouring lines in units of its standard deviation 1 / sqrt(lines) for noise; 2 leaves 1
 * in 50 to chance.
 */
const MOST_CORRELATION = 2;
/** Highest residual line over the mean power, beyond ln(lines) for noise; 5 leaves 1 in 150 to chance. */
const MOST_EXCESS = 5;

/**
 * Fits `count` poles to the lines of a band, common to its channels, by maximum likelihood for circular
 * Gaussian noise of unknown size in each channel. The poles start from {@link startPoles}; residues and
 * background are linear and eliminated (variable projection: Golub & Pereyra 1973, with the Jacobian of
 * Kaufman 1975), so Levenberg-Marquardt moves the poles alone. The conjugate poles belong to the model, which
 * keeps it exact near 0 Hz. Orthogonal columns are used rather than normal equations, which would square the
 * condition of neighbouring poles over a smooth background.
 *
 * Standard deviations are the linearised ones from the residuals; they hold where the noise is alike over the
 * band.
 * @param beatCriterion - criterion of a rival; a fit that cannot come below it is left as soon as that shows
 */
export function fitPoles(band: Band, count: number, beatCriterion = Number.POSITIVE_INFINITY): PoleFit {
  const n = band.lines.frequenciesHz.length;
  const channels = band.remainders.length;
  const realParameters = 2 * count + channels * (countBackgroundParameters(band) + 2 * count);
  const price = penalise(n * channels, realParameters, count);
  let state = evaluatePoles(
    band,
    count === 0 ? [] : startPoles(band, count).map((pole) => pullIntoReach(pole, band)),
  );
  let spare = createWorkspace(band, 2 * count);
  const slopes = createWorkspace(band, 2 * count + 1);
  let converged = count === 0;
  let iterations = 0;
  let damping = FIRST_DAMPING;
  let isHopeless = false;
  while (
    !converged &&
    !isHopeless &&
    state.poles.length === count &&
    iterations < MOST_ITERATIONS &&
    damping < MOST_DAMPING
  ) {
    iterations++;
    const { gradient, curvature } = linearisePoles(band, state, state.residuals, slopes);
    let improved = false;
    while (!improved && damping < MOST_DAMPING) {
      const step = solveSymmetric(curvature, gradient, damping);
      if (step === null) {
        damping = MOST_DAMPING;
        break;
      }
      const length = step.reduce((sum, x, i) => sum + x * gradient[i]!, 0);
      const gain = -2 * n * channels * Math.log1p(-Math.min(1, length / (2 * n * channels)));
      isHopeless = iterations > HOPEFUL_STEPS && state.deviance + price - HOPED_GAINS * gain > beatCriterion;
      if (isHopeless) break;
      const next = evaluatePoles(
        band,
        state.poles.map((pole, m) => ({
          decayRate: pole.decayRate + step[2 * m]!,
          angularFrequency: pole.angularFrequency + step[2 * m + 1]!,
        })),
        spare,
      );
      if (length < CONVERGED_STEP) converged = true;
      if (next.deviance <= state.deviance) {
        spare = state.work;
        state = next;
        improved = true;
        damping /= DAMPING_FACTOR;
      } else if (converged) break;
      else damping *= DAMPING_FACTOR;
    }
  }
  // no step down hill at the smallest reach: as low as rounding lets it go
  if (damping >= MOST_DAMPING && Number.isFinite(state.deviance)) converged = true;
  return {
    poles: state.poles.length === 0 ? [] : describePoles(band, state, realParameters),
    noise: state.squares.map((square) => Math.sqrt(square / freeLines(n, realParameters / channels))),
    criterion: state.deviance + price,
    isWhite: state.residuals.every(looksWhite),
    converged,
    iterations,
    message: converged ? 'converged' : `not converged after ${iterations} steps`,
  };
}

/**
 * Price of a model: the Bayesian criterion (Schwarz 1978) with its correction for few data (McQuarrie 1999, from
 * memory), and each pole's frequency and decay at three times the price of a linear coefficient, since they are
 * sought over a whole band (Djuric, IEEE Trans. Signal Process. 44, 1996, 1744-1751: frequencies weigh unlike
 * amplitudes, abstract read; three times, of his 1998 paper in volume 46, from memory).
 */
function penalise(complexLines: number, realParameters: number, poles: number): number {
  const data = 2 * complexLines;
  const priced = realParameters + 2 * (POLE_PRICE - 1) * poles;
  return (priced * Math.log(data) * data) / Math.max(1, data - realParameters - 2);
}

/** Complex lines left to show the noise of one channel; at least one. */
function freeLines(lines: number, realParametersPerChannel: number): number {
  return Math.max(1, lines - realParametersPerChannel / 2);
}

/** Tells noise from what is left of a mode: lines of noise do not hang together, and none stands out. */
function looksWhite(residual: Float64Array): boolean {
  const n = residual.length / 2;
  let power = 0;
  let highest = 0;
  let re = 0;
  let im = 0;
  for (let k = 0; k < n; k++) {
    const a = residual[k]!;
    const b = residual[n + k]!;
    power += a * a + b * b;
    highest = Math.max(highest, a * a + b * b);
    if (k + 1 === n) break;
    re += a * residual[k + 1]! + b * residual[n + k + 1]!;
    im += a * residual[n + k + 1]! - b * residual[k + 1]!;
  }
  const hangsTogether = Math.hypot(re, im) * Math.sqrt(n) > MOST_CORRELATION * power;
  return !hangsTogether && highest * n < (Math.log(n) + MOST_EXCESS) * power;
}

/** A start that is a decay and lies in or near the band. */
export function pullIntoReach(pole: Pole, band: Band): Pole {
  const f = band.lines.frequenciesHz;
  const spacing = 2 * Math.PI * (f[1]! - f[0]!);
  const middle = Math.PI * (f[0]! + f[f.length - 1]!);
  const reach = START_REACH * Math.PI * (f[f.length - 1]! - f[0]!);
  const clamp = (value: number, low: number, high: number) => Math.min(Math.max(value, low), high);
  return {
    decayRate: clamp(Math.abs(pole.decayRate), spacing / 100, reach),
    angularFrequency: clamp(pole.angularFrequency, Math.max(middle - reach, spacing / 2), middle + reach),
  };
}

/**
 * How far each pole of a fit moves, to first order, when `disturbances` (one column a channel, laid out like the
 * remainders) are added to the data.
 */
export function computeShifts(
  band: Band,
  fit: PoleFit,
  disturbances: readonly Float64Array[],
): { frequencyHz: number; dampingRatio: number }[] {
  const state = evaluatePoles(band, fit.poles);
  const { gradient, curvature } = linearisePoles(band, state, disturbances);
  const moves = solveSymmetric(curvature, gradient);
  return fit.poles.map(({ decayRate, angularFrequency }, m) => {
    if (moves === null) return { frequencyHz: 0, dampingRatio: 0 };
    const modulus = Math.hypot(decayRate, angularFrequency);
    const [byDecay, byFrequency] = [moves[2 * m]!, moves[2 * m + 1]!];
    return {
      frequencyHz: (decayRate * byDecay + angularFrequency * byFrequency) / modulus / (2 * Math.PI),
      dampingRatio:
        (angularFrequency * (angularFrequency * byDecay - decayRate * byFrequency)) / modulus ** 3,
    };
  });
}

function describePoles(band: Band, state: PoleState, realParameters: number): FittedPole[] {
  const n = band.lines.frequenciesHz.length;
  const channels = band.remainders.length;
  const free = freeLines(n, realParameters / channels);
  const { curvature } = linearisePoles(band, state);
  // curvature was scaled by the likelihood's noise square / n; the unbiased one divides by what is free
  const covariance = invertSymmetric(curvature)?.map((row) => row.map((x) => (x * n) / free));
  return state.poles.map((pole, m) => {
    const { decayRate, angularFrequency } = pole;
    const modulus = Math.hypot(decayRate, angularFrequency);
    const spread = (byDecay: number, byFrequency: number): number => {
      if (covariance === undefined) return Number.POSITIVE_INFINITY;
      const d = covariance[2 * m]!;
      const w = covariance[2 * m + 1]!;
      return Math.sqrt(
        byDecay ** 2 * d[2 * m]! +
          2 * byDecay * byFrequency * d[2 * m + 1]! +
          byFrequency ** 2 * w[2 * m + 1]!,
      );
    };
    return {
      decayRate,
      angularFrequency,
      frequencyHz: {
        value: modulus / (2 * Math.PI),
        sd: spread(decayRate / modulus, angularFrequency / modulus) / (2 * Math.PI),
      },
      dampingRatio: {
        value: decayRate / modulus,
        sd: spread(angularFrequency ** 2 / modulus ** 3, (-decayRate * angularFrequency) / modulus ** 3),
      },
      residues: state.residues.map((own) => ({ re: own[2 * m]!, im: own[2 * m + 1]! })),
      peakDb: state.residues.map(
        (own, c) => 10 * Math.log10((measureEnergy(state.columns, own, m) * free) / state.squares[c]!),
      ),
    };
  });
}

/** Sum of |a pole's term free of background|^2 over the lines: its columns are basis times upper triangle. */
function measureEnergy({ upper }: Factored, residues: Float64Array, pole: number): number {
  const size = residues.length;
  let energy = 0;
  for (let i = 0; i < size; i++) {
    const at = i * size + 2 * pole;
    energy += (residues[2 * pole]! * upper[at]! + residues[2 * pole + 1]! * upper[at + 1]!) ** 2;
  }
  return energy;
}
