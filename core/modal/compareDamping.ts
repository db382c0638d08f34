import { correctDampingForWindow, removeDrift } from '../signal/index.ts';
import { estimateDampingDecay } from './estimateDampingDecay.ts';
import { estimateDampingHalfPower } from './estimateDampingHalfPower.ts';
import { fuseEstimates } from './fuseEstimates.ts';
import { HIGHEST_DRIFT_HZ } from './prepareBand.ts';
import { assignPlanes, listPlanes } from './strikeLines.ts';
import type { MeasuredValue, ModeCandidate, StrikeSegment } from './strikeSegment.ts';
import { pairChannels } from './turnChannels.ts';

/** Damping of one mode by three roads. */
export interface DampingComparison {
  readonly plane: number;
  readonly frequencyHz: number;
  /** Of the fitted pole. */
  readonly fit: MeasuredValue;
  /** Of the envelope's slope; null where no strike lasts long enough. */
  readonly decay: MeasuredValue | null;
  /** Of the peak's width; null where no flank comes down to half power. */
  readonly halfPower: number | null;
}

/** The envelope is followed for so many time constants: by then it has lost 35 dB, and noise takes over. */
const FOLLOWED_TIME_CONSTANTS = 4;
const FEWEST_PERIODS = 12;
/** Grid of the peak: this many half widths to either side, this many points each. */
const HALF_WIDTHS = 4;
const POINTS_A_HALF_WIDTH = 10;

/**
 * Sets the damping of a mode's pole beside what the decay's envelope and the peak's width at half power say,
 * along the mode's principal plane, fused over strikes. The three agree on a clean single mode; an envelope that
 * beats or a peak that is two shows as a difference. Both other readings are biased where the other plane rings
 * within a width, and the width reads high where the record is short.
 * @param turnDeg - from the sensor's axes to the principal planes
 */
export function compareDamping(
  strikes: readonly StrikeSegment[],
  mode: Pick<ModeCandidate, 'plane' | 'frequencyHz' | 'dampingRatio'>,
  turnDeg: number,
): DampingComparison {
  const { plane, dampingRatio } = mode;
  const frequencyHz = mode.frequencyHz.value;
  const planes = listPlanes(strikes);
  const decays: MeasuredValue[] = [];
  const widths: number[] = [];
  for (const strike of strikes) {
    const along = lookAlong(strike, planes, plane, turnDeg);
    if (along === null) continue;
    const samples = frequencyHz < HIGHEST_DRIFT_HZ ? removeDrift(along, strike.sampleRateHz) : along;
    const correct = (value: number) =>
      strike.exponentialWindowS === undefined
        ? value
        : correctDampingForWindow(value, frequencyHz, strike.exponentialWindowS);
    const decay = readDecay(samples, strike.sampleRateHz, frequencyHz, dampingRatio.value);
    if (decay !== null && decay.value > 0 && decay.sd > 0)
      decays.push({ value: correct(decay.value), sd: decay.sd });
    const width = readWidth(samples, strike.sampleRateHz, frequencyHz, dampingRatio.value);
    if (width !== null) widths.push(correct(width));
  }
  widths.sort((a, b) => a - b);
  return {
    plane,
    frequencyHz,
    fit: dampingRatio,
    decay: decays.length === 0 ? null : fuseEstimates(decays),
    halfPower: widths[widths.length >> 1] ?? null,
  };
}

/** Samples along a principal plane; null where the strike has no channel of it. */
function lookAlong(
  strike: StrikeSegment,
  planes: readonly number[],
  plane: number,
  turnDeg: number,
): Float64Array | null {
  const assigned = assignPlanes(strike, planes);
  const own = assigned.indexOf(plane);
  if (own < 0) return null;
  const pair = pairChannels({ segment: strike, planes: assigned }).find(
    ({ first, second }) => first === own || second === own,
  );
  if (pair === undefined) return strike.channels[own]!;
  const isFirst = pair.first === own;
  const other = strike.channels[isFirst ? pair.second : pair.first]!;
  const angle = (turnDeg * Math.PI) / 180;
  const sin = (isFirst ? pair.sense : -pair.sense) * Math.sin(angle);
  return strike.channels[own]!.map((x, i) => Math.cos(angle) * x + sin * other[i]!);
}

function readDecay(
  samples: Float64Array,
  sampleRateHz: number,
  frequencyHz: number,
  dampingRatio: number,
): MeasuredValue | null {
  const followedS = Math.max(
    FOLLOWED_TIME_CONSTANTS / (2 * Math.PI * frequencyHz * dampingRatio),
    FEWEST_PERIODS / frequencyHz,
  );
  const count = Math.min(samples.length, Math.round(followedS * sampleRateHz));
  if (count * frequencyHz < FEWEST_PERIODS * sampleRateHz) return null;
  return estimateDampingDecay(samples.subarray(0, count), { sampleRateHz, nearHz: frequencyHz }).dampingRatio;
}

/** From the transform of the record on a fine grid round the peak. */
function readWidth(
  samples: Float64Array,
  sampleRateHz: number,
  frequencyHz: number,
  dampingRatio: number,
): number | null {
  const halfWidthHz = Math.max(dampingRatio * frequencyHz, sampleRateHz / samples.length);
  const points = 2 * HALF_WIDTHS * POINTS_A_HALF_WIDTH + 1;
  const frequenciesHz = Float64Array.from(
    { length: points },
    (_, i) => frequencyHz + halfWidthHz * (i / POINTS_A_HALF_WIDTH - HALF_WIDTHS),
  ).filter((value) => value > 0);
  const amplitudes = frequenciesHz.map((value) => transformAt(samples, (2 * Math.PI * value) / sampleRateHz));
  const found = estimateDampingHalfPower(frequenciesHz, amplitudes, frequencyHz);
  return found === null ? null : found.dampingRatio;
}

/** |sum x[n] exp(-i angle n)|, by Horner's rule from the end. */
function transformAt(samples: Float64Array, angle: number): number {
  const turnRe = Math.cos(angle);
  const turnIm = -Math.sin(angle);
  let re = 0;
  let im = 0;
  for (let n = samples.length - 1; n >= 0; n--) {
    const next = re * turnRe - im * turnIm + samples[n]!;
    im = re * turnIm + im * turnRe;
    re = next;
  }
  return Math.hypot(re, im);
}
