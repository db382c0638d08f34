import { type Neighbourhood, selectBand } from './fitLocalModes.ts';
import { pullIntoReach } from './fitPoles.ts';
import { multiplyColumns, orthonormalise, projectOut, solveShares } from './orthogonalColumns.ts';
import { combinePair, fillPoleTerm, type Pole } from './poleBasis.ts';
import { createWorkspace, type Workspace } from './poleState.ts';
import { type Band, prepareBand, projectOutBackground } from './prepareBand.ts';
import { startPoles } from './startPoles.ts';
import type { StrikeLines } from './strikeLines.ts';
import type { MeasuredValue } from './strikeSegment.ts';
import { mixColumns, pairChannels } from './turnChannels.ts';

/**
 * What is known before: a sensor is strapped on by eye, along what the crew holds to be the planes (common
 * practice, no source). Wide enough that strikes overrule it wherever they show anything.
 */
const STRAPPED_SD = (10 * Math.PI) / 180;
/** No pole's planes are as perpendicular, no sensor's axes as true as a strong strike would have them. */
const SMALLEST_SD = (0.15 * Math.PI) / 180;
/** Starts of the search: the turn repeats every 90 degrees, and one of these is within 15 degrees of any. */
const STARTS = [0, -20, 20, 40].map((deg) => (deg * Math.PI) / 180);
const MOST_STEPS = 7;
const LONGEST_STEP = (12 * Math.PI) / 180;
/** In standard deviations. */
const CONVERGED_STEP = 0.1;
/** Bands that are looked at over all strikes, highest peaks first, and those of them that choose the start. */
const MOST_BANDS = 12;
const STARTING_BANDS = 4;
/** Lines of a band on either side of its peak: what tells planes apart lies near it. */
const MOST_HALF_LINES = 32;
/** Steps of a pole at one turn, in shares of its decay rate; it moves little from one turn to the next. */
const MOST_POLE_STEPS = 12;
const LONGEST_POLE_STEP = 0.7;
const LEAST_GAIN = 0.01;

interface TurnedBand {
  readonly band: Band;
  readonly sense: 1 | -1;
  /** Poles of the two axes at the last turn looked at. */
  poles: [Pole | null, Pole | null];
}

/**
 * Estimates the angle between the sensor's axes and the principal planes of the pole, common to all modes and
 * strikes: the turn at which one pole along each axis explains the strikes best. Maximum likelihood over all
 * bands by Gauss and Newton; the slope of the likelihood comes from what the fit of one axis leaves over,
 * compared with what the other axis holds and this axis' fit cannot imitate. Noise turns with the axes, and
 * what it adds to the curvature is taken off, so that strikes whose planes ring alike tell nothing.
 * @param neighbourhoods - where the spectra show peaks, highest first
 * @returns radians in the sense of azimuths, within 45 degrees either way; the standard deviation is that of
 *   strapping where the strikes tell nothing or have one axis only
 */
export function estimateTurn(
  strikes: readonly StrikeLines[],
  neighbourhoods: readonly Neighbourhood[],
): MeasuredValue {
  const bands = neighbourhoods
    .flatMap((near) => strikes.flatMap((strike) => collectBands(strike, near)))
    .slice(0, MOST_BANDS);
  if (bands.length === 0) return { value: 0, sd: STRAPPED_SD };
  const starting = bands.slice(0, STARTING_BANDS);
  const heights = STARTS.map((turn) => {
    for (const band of starting) band.poles = [null, null];
    return sumSlopes(starting, turn).deviance;
  });
  const start = STARTS[heights.indexOf(Math.min(...heights))]!;
  for (const band of starting) band.poles = [null, null];
  let best = { turn: start, ...sumSlopes(bands, start) };
  let reach = LONGEST_STEP;
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = Math.max(-reach, Math.min(reach, best.slope / best.curvature));
    if (Math.abs(move) * Math.sqrt(best.curvature) < CONVERGED_STEP) break;
    const next = { turn: best.turn - move, ...sumSlopes(bands, best.turn - move) };
    if (next.deviance <= best.deviance) best = next;
    else reach = Math.abs(move) / 3;
  }
  return {
    value: wrapQuarter(best.turn),
    sd: Math.hypot(Math.sqrt(best.scatter / best.curvature), SMALLEST_SD),
  };
}

function collectBands(strike: StrikeLines, near: Neighbourhood): TurnedBand[] {
  const lines = selectBand(strike, near, MOST_HALF_LINES);
  if (lines === null) return [];
  return pairChannels(strike).map(({ first, second, sense }) => {
    const pick = <T>(all: readonly T[]): T[] => [all[first]!, all[second]!];
    const band = prepareBand({
      ...lines,
      channels: pick(lines.channels),
      noisePower: pick(lines.noisePower),
    });
    return { band, sense, poles: [null, null] };
  });
}

/**
 * Minus twice the log of likelihood and prior at a turn, half its slope, half its curvature, and the scatter of
 * the bands about the common turn over what noise alone gives (1 and more).
 */
function sumSlopes(bands: readonly TurnedBand[], turn: number) {
  const prior = 1 / STRAPPED_SD ** 2;
  let deviance = turn * turn * prior;
  let slope = turn * prior;
  let curvature = prior;
  let squares = 0;
  let informed = 0;
  for (const turned of bands) {
    const at = measureBand(turned, turn);
    deviance += at.deviance;
    slope += at.slope;
    if (!(at.curvature > 0)) continue;
    curvature += at.curvature;
    squares += (at.slope * at.slope) / at.curvature;
    informed++;
  }
  const scatter = informed > 1 ? Math.max(1, squares / (informed - 1)) : 1;
  return { deviance, slope, curvature, scatter };
}

function measureBand(turned: TurnedBand, turn: number) {
  const { band, sense } = turned;
  const n = band.lines.frequenciesHz.length;
  const [a, b] = band.remainders;
  const cos = Math.cos(turn);
  const sin = sense * Math.sin(turn);
  const axes = [mixColumns(a!, b!, cos, sin), mixColumns(b!, a!, cos, -sin)] as const;
  let deviance = 0;
  let slope = 0;
  let curvature = 0;
  for (const own of [0, 1] as const) {
    const noisePower = band.lines.noisePower[own]!;
    const followed = followPole(band, axes[own], turned.poles[own]);
    const { pole, tangent, residual } = followed;
    turned.poles[own] = pole;
    const square = Math.max(followed.square, n * noisePower, Number.MIN_VALUE);
    deviance += 2 * n * Math.log(square / n);
    // an axis moves by the other one as it is turned
    const moved = axes[1 - own]!.slice();
    projectOut(moved, tangent);
    const sign = own === 0 ? sense : -sense;
    slope += (2 * n * sign * multiplyColumns(residual, moved)) / square;
    curvature += (2 * n * (multiplyColumns(moved, moved) - square)) / square;
  }
  return { deviance, slope, curvature };
}

interface FollowedPole {
  readonly pole: Pole;
  /** What the pole's term becomes when residue, frequency and decay move; the residue's two columns first. */
  readonly tangent: readonly Float64Array[];
  readonly residual: Float64Array;
  readonly square: number;
  /** Step to where least squares on the tangent would have the pole, in 1/s. */
  readonly move: Pole;
  /** By how much that would lower minus twice the log likelihood. */
  readonly gain: number;
  /** What holds the tangent and the residual. */
  readonly work: Workspace;
}

/** Columns of a residue, real and imaginary, and of its slope. */
const TANGENT_COLUMNS = 4;

/** Moves a pole to where it explains an axis best, by Gauss and Newton, downhill only. */
function followPole(band: Band, remainder: Float64Array, last: Pole | null): FollowedPole {
  let spare = createWorkspace(band, TANGENT_COLUMNS);
  let best = linearisePole(
    band,
    remainder,
    last ?? startAxis(band, remainder),
    createWorkspace(band, TANGENT_COLUMNS),
  );
  let share = 1;
  for (let step = 0; step < MOST_POLE_STEPS; step++) {
    const { pole, move } = best;
    const length = Math.hypot(move.decayRate, move.angularFrequency);
    if (!(best.gain > LEAST_GAIN)) break;
    const kept = Math.min(share, (LONGEST_POLE_STEP * pole.decayRate) / length);
    const moved = {
      decayRate: pole.decayRate + kept * move.decayRate,
      angularFrequency: pole.angularFrequency + kept * move.angularFrequency,
    };
    const next = linearisePole(band, remainder, moved, spare);
    if (next.square < best.square) {
      spare = best.work;
      best = next;
      share = 1;
    } else share = kept / 4;
  }
  return best;
}

function linearisePole(band: Band, remainder: Float64Array, pole: Pole, work: Workspace): FollowedPole {
  const { frequenciesHz, sampleRateHz } = band.lines;
  const { columns } = work;
  fillTangent(columns, pole, frequenciesHz, sampleRateHz);
  for (const column of columns) projectOutBackground(column, band);
  const factored = orthonormalise(columns);
  const tangent = factored.basis;
  const residual = work.residuals[0]!;
  residual.set(remainder);
  const shares = new Float64Array(columns.length);
  projectOut(residual, tangent, Math.min(2, tangent.length), shares);
  const square = multiplyColumns(residual, residual);
  if (!factored.isFull)
    return { pole, tangent, residual, square, move: { decayRate: 0, angularFrequency: 0 }, gain: 0, work };
  // the residue, and the residue times the move of s = -decayRate + i angularFrequency
  for (let i = 2; i < columns.length; i++) shares[i] = multiplyColumns(tangent[i]!, residual);
  const [re, im, slopeRe, slopeIm] = solveShares(factored, shares) as unknown as [
    number,
    number,
    number,
    number,
  ];
  const power = re * re + im * im || Number.MIN_VALUE;
  const move = {
    decayRate: -(slopeRe * re + slopeIm * im) / power,
    angularFrequency: (slopeIm * re - slopeRe * im) / power,
  };
  const left = shares[2]! ** 2 + shares[3]! ** 2;
  const gain = -2 * frequenciesHz.length * Math.log1p(-left / square);
  return { pole, tangent, residual, square, move, gain, work };
}

function startAxis(band: Band, remainder: Float64Array): Pole {
  const parts = remainder.length / 2;
  const channel = { re: remainder.subarray(0, parts), im: remainder.subarray(parts) };
  const axis = { ...band, lines: { ...band.lines, channels: [channel] } };
  return pullIntoReach(startPoles(axis, 1)[0] ?? { decayRate: 0, angularFrequency: 0 }, band);
}

/** Fills four columns: a pole's residue, real and imaginary, and its slope by s. */
function fillTangent(
  columns: readonly Float64Array[],
  pole: Pole,
  frequenciesHz: Float64Array,
  sampleRateHz: number,
): void {
  const [direct, mirror, directSlope, mirrorSlope] = columns;
  fillPoleTerm(direct!, directSlope!, pole, 1, frequenciesHz, sampleRateHz);
  fillPoleTerm(mirror!, mirrorSlope!, pole, -1, frequenciesHz, sampleRateHz);
  combinePair(direct!, mirror!);
  combinePair(directSlope!, mirrorSlope!);
}

/** The same planes within 45 degrees either way. */
function wrapQuarter(turn: number): number {
  const quarter = Math.PI / 2;
  return turn - quarter * Math.round(turn / quarter);
}
