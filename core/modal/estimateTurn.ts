import { type Neighbourhood, selectBand } from './fitLocalModes.ts';
import { fitPoles } from './fitPoles.ts';
import { multiplyColumns, orthonormalise, projectOut } from './orthogonalColumns.ts';
import { combinePair, fillPoleTerm, type Pole } from './poleBasis.ts';
import { type Band, prepareBand } from './prepareBand.ts';
import type { StrikeLines } from './strikeLines.ts';
import type { MeasuredValue } from './strikeSegment.ts';
import { mixColumns, pairChannels } from './turnChannels.ts';

/**
 * What is known before: a sensor is strapped on by eye, along what the crew holds to be the planes (common
 * practice, no source). Wide enough that strikes overrule it wherever they show anything.
 */
const STRAPPED_SD = (8 * Math.PI) / 180;
/** No pole's planes are as perpendicular, no sensor's axes as true as a strong strike would have them. */
const SMALLEST_SD = (0.15 * Math.PI) / 180;
/** Starts of the search: the turn repeats every 90 degrees, and no start is then further off than 15 degrees. */
const STARTS = [0, -30, 30].map((deg) => (deg * Math.PI) / 180);
const MOST_STEPS = 5;
const LONGEST_STEP = (12 * Math.PI) / 180;
/** In standard deviations. */
const CONVERGED_STEP = 0.1;
/** Bands that are looked at over all strikes, highest peaks first, and those of them that choose the start. */
const MOST_BANDS = 12;
const STARTING_BANDS = 4;
/** Lines of a band on either side of its peak: what tells planes apart lies near it. */
const MOST_HALF_LINES = 32;
/** Steps of a pole at one turn; it moves little from one turn to the next. */
const POLE_STEPS = 2;

interface TurnedBand {
  readonly band: Band;
  readonly sense: 1 | -1;
  /** Poles of the two axes at the last turn looked at. */
  poles: [Pole[], Pole[]];
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
  const heights = STARTS.map((turn) => sumSlopes(starting, turn).deviance);
  const start = STARTS[heights.indexOf(Math.min(...heights))]!;
  let best = { turn: start, ...sumSlopes(bands, start) };
  for (let step = 0; step < MOST_STEPS; step++) {
    const move = best.slope / best.curvature;
    const turn = best.turn - Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, move));
    const next = { turn, ...sumSlopes(bands, turn) };
    const isLower = next.deviance <= best.deviance;
    if (isLower) best = next;
    if (!isLower || Math.abs(move) * Math.sqrt(best.curvature) < CONVERGED_STEP) break;
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
    return { band, sense, poles: [[], []] };
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
    const remainder = axes[own];
    const fit = fitPoles(
      {
        ...band,
        lines: { ...band.lines, noisePower: [band.lines.noisePower[own]!] },
        remainders: [remainder],
      },
      1,
      turned.poles[own].length > 0 ? { poles: turned.poles[own], mostIterations: POLE_STEPS } : null,
    );
    const pole = fit.poles[0];
    if (pole === undefined) continue;
    turned.poles[own] = [pole];
    const tangent = spanTangent(band, pole);
    const residual = Float64Array.from(remainder);
    projectOut(residual, tangent);
    const least = n * band.lines.noisePower[own]!;
    const square = Math.max(multiplyColumns(residual, residual), least, Number.MIN_VALUE);
    deviance += 2 * n * Math.log(square / n);
    // an axis moves by the other one as it is turned
    const moved = Float64Array.from(axes[1 - own]!);
    projectOut(moved, tangent);
    const sign = own === 0 ? sense : -sense;
    slope += (2 * n * sign * multiplyColumns(residual, moved)) / square;
    curvature += (2 * n * (multiplyColumns(moved, moved) - square)) / square;
  }
  return { deviance, slope, curvature };
}

/** Orthonormal columns of all that a pole's term becomes when residue, frequency and decay move. */
function spanTangent(band: Band, pole: Pole): Float64Array[] {
  const { frequenciesHz, sampleRateHz } = band.lines;
  const make = () => new Float64Array(2 * frequenciesHz.length);
  const [direct, mirror, directSlope, mirrorSlope] = [make(), make(), make(), make()];
  fillPoleTerm(direct, directSlope, pole, 1, frequenciesHz, sampleRateHz);
  fillPoleTerm(mirror, mirrorSlope, pole, -1, frequenciesHz, sampleRateHz);
  const columns = [...combinePair(direct, mirror), ...combinePair(directSlope, mirrorSlope)];
  for (const column of columns) projectOut(column, band.background);
  return orthonormalise(columns);
}

/** The same planes within 45 degrees either way. */
function wrapQuarter(turn: number): number {
  const quarter = Math.PI / 2;
  return turn - quarter * Math.round(turn / quarter);
}
