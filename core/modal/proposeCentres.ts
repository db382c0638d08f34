import { pickRank } from '../signal/index.ts';
import { findPeaks } from './findPeaks.ts';
import type { StrikeLines } from './strikeLines.ts';

/** A frequency near which the spectra show a peak. */
export interface Centre {
  readonly frequencyHz: number;
  /** Half of the width at half power, as far as lines resolve it. */
  readonly halfWidthHz: number;
  /** Height over the floor around it. */
  readonly heightDb: number;
}

/** Half width of smoothing as a share of frequency: well inside the half-power width of 0.5 % damping. */
const SMOOTHING_SHARE = 0.004;
/**
 * Half width, as a share of frequency, over which the median makes the floor; wider than a peak, narrower
 * than the step between modes.
 */
const FLOOR_SHARE = 0.3;
const FEWEST_FLOOR_LINES = 8;
/** Floor is evaluated at frequencies this factor apart. */
const FLOOR_STEP = 1.12;
/**
 * Height over the floor to look closer: 3 dB, and 7 dB more for a single line, falling with the root of the
 * lines averaged. The power of a line of noise is exponential, so of 1000 single lines one stands 10 dB above
 * the median.
 */
const LEAST_HEIGHT_DB = 3;
const NOISE_HEIGHT_DB = 7;
/** A peak must also part from its neighbours by this share of that height. */
const PROMINENCE_SHARE = 0.6;
/**
 * Up to here the transform of a decay that starts at once is full of the higher modes' beginnings, and a
 * first mode shows as a dip beside a peak. A Hann window takes the beginnings out, and a first mode rings on
 * long enough to stay.
 */
const HIGHEST_WINDOWED_HZ = 8;
/** Lines are kept up to this multiple of it, for the floor around the last peaks. */
const WINDOWED_MARGIN = 1.5;
const MOST_CENTRES_A_SPECTRUM = 12;
/**
 * Centres nearer than this share of their frequency, or 1.5 lines, are looked at together: one fit holds up
 * to three poles.
 */
const MERGE_SHARE = 0.008;
const MERGE_LINES = 1.5;
const HALF_POWER_DB = 10 * Math.log10(2);

/**
 * Proposes where to fit: peaks of the smoothed log spectrum of each plane that stand out of the median around
 * them, in the mean over the strikes of one kind of exciter, which shows weak modes, and in each strike,
 * which shows what does not repeat. Kinds of exciter are kept apart since the hand lights the first mode and
 * the hammer the higher ones.
 * @returns ascending frequency
 */
export function proposeCentres(strikes: readonly StrikeLines[], minimumHz: number): Centre[] {
  const kinds = [...new Set(strikes.map((strike) => strike.segment.exciter))].map((exciter) =>
    strikes.filter((strike) => strike.segment.exciter === exciter),
  );
  const groups = [...kinds.filter((kind) => kind.length > 1), ...strikes.map((strike) => [strike])];
  const found = groups.flatMap((group) =>
    [...new Set(group.flatMap((strike) => strike.planes))].flatMap((plane) =>
      [false, true].flatMap((isWindowed) => findSpectrumCentres(group, plane, minimumHz, isWindowed)),
    ),
  );
  return mergeCentres(found, Math.min(...strikes.map((strike) => strike.spacingHz)));
}

function findSpectrumCentres(
  group: readonly StrikeLines[],
  plane: number,
  minimumHz: number,
  isWindowed: boolean,
): Centre[] {
  const finest = group.reduce((a, b) => (b.spacingHz < a.spacingHz ? b : a));
  const all = finest.lines.frequenciesHz;
  const windowedLines = Math.round((WINDOWED_MARGIN * HIGHEST_WINDOWED_HZ) / finest.spacingHz);
  const frequencies = isWindowed ? all.subarray(0, windowedLines) : all;
  const levels = new Float64Array(frequencies.length);
  let spectra = 0;
  for (const strike of group) {
    strike.planes.forEach((own, c) => {
      if (own !== plane) return;
      addLevels(levels, frequencies, strike, c, isWindowed);
      spectra++;
    });
  }
  for (let k = 0; k < levels.length; k++) levels[k]! /= spectra;
  const floor = estimateFloor(levels, frequencies);
  const heights = levels.slice();
  for (let k = 0; k < heights.length; k++) heights[k]! -= floor[k]!;
  const centres: Centre[] = [];
  const peaks = findPeaks(levels, { minimumProminence: LEAST_HEIGHT_DB * PROMINENCE_SHARE });
  for (const [i, k] of peaks.index.entries()) {
    const averaged = spectra * (2 * smoothingLines(k + 1) + 1);
    const wanted = LEAST_HEIGHT_DB + NOISE_HEIGHT_DB / Math.sqrt(averaged);
    if (frequencies[k]! < minimumHz || (isWindowed && frequencies[k]! > HIGHEST_WINDOWED_HZ)) continue;
    if (heights[k]! < wanted || peaks.prominence[i]! < PROMINENCE_SHARE * wanted) continue;
    centres.push({
      frequencyHz: frequencies[k]!,
      halfWidthHz: measureHalfWidth(levels, k) * finest.spacingHz,
      heightDb: heights[k]!,
    });
  }
  return centres.sort((a, b) => b.heightDb - a.heightDb).slice(0, MOST_CENTRES_A_SPECTRUM);
}

function smoothingLines(lineNumber: number): number {
  return Math.floor(SMOOTHING_SHARE * lineNumber);
}

/** Adds the smoothed power of one channel in dB, interpolated to `frequencies`. */
function addLevels(
  levels: Float64Array,
  frequencies: Float64Array,
  strike: StrikeLines,
  channel: number,
  isWindowed: boolean,
): void {
  const { re, im } = strike.lines.channels[channel]!;
  const n = re.length;
  const sums = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    // Hann's window over the record is this difference of three lines
    const isInside = isWindowed && k > 0 && k < n - 1;
    const a = isInside ? re[k]! / 2 - (re[k - 1]! + re[k + 1]!) / 4 : re[k]!;
    const b = isInside ? im[k]! / 2 - (im[k - 1]! + im[k + 1]!) / 4 : im[k]!;
    sums[k + 1] = sums[k]! + a * a + b * b;
  }
  const own = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const half = smoothingLines(k + 1);
    const from = Math.max(0, k - half);
    const to = Math.min(n, k + half + 1);
    const power = (sums[to]! - sums[from]!) / (to - from);
    own[k] = 10 * Math.log10(Math.max(power, Number.MIN_VALUE));
  }
  for (let k = 0; k < levels.length; k++) {
    const at = Math.min(Math.max(frequencies[k]! / strike.spacingHz - 1, 0), n - 1);
    const left = Math.min(Math.floor(at), n - 2);
    levels[k]! += own[left]! + (at - left) * (own[left + 1]! - own[left]!);
  }
}

/** Running median over a share of the frequency, evaluated at geometric steps and interpolated. */
function estimateFloor(levels: Float64Array, frequencies: Float64Array): Float64Array {
  const n = levels.length;
  const floor = new Float64Array(n);
  let previous = 0;
  const work = new Float64Array(n);
  let previousLevel = medianAround(levels, 0, work);
  floor[0] = previousLevel;
  while (previous < n - 1) {
    const next = Math.min(n - 1, Math.max(previous + 1, Math.round((previous + 1) * FLOOR_STEP) - 1));
    const level = medianAround(levels, next, work);
    for (let k = previous + 1; k <= next; k++) {
      const share =
        (frequencies[k]! - frequencies[previous]!) / (frequencies[next]! - frequencies[previous]!);
      floor[k] = previousLevel + share * (level - previousLevel);
    }
    previous = next;
    previousLevel = level;
  }
  return floor;
}

/** @param work - as long as the levels */
function medianAround(levels: Float64Array, k: number, work: Float64Array): number {
  const half = Math.max(FEWEST_FLOOR_LINES, Math.round(FLOOR_SHARE * (k + 1)));
  const from = Math.max(0, k - half);
  const count = Math.min(levels.length, k + half + 1) - from;
  for (let i = 0; i < count; i++) work[i] = levels[from + i]!;
  return pickRank(work.subarray(0, count), count >> 1);
}

/** Lines from the peak to half power on the steeper side, at least one. */
function measureHalfWidth(levels: Float64Array, k: number): number {
  const limit = levels[k]! - HALF_POWER_DB;
  let reach = 1;
  while (
    k - reach >= 0 &&
    k + reach < levels.length &&
    levels[k - reach]! > limit &&
    levels[k + reach]! > limit
  )
    reach++;
  return reach;
}

function mergeCentres(found: Centre[], spacingHz: number): Centre[] {
  const merged: Centre[] = [];
  for (const centre of found.sort((a, b) => a.frequencyHz - b.frequencyHz)) {
    const last = merged[merged.length - 1];
    const reach = Math.max(MERGE_SHARE * centre.frequencyHz, MERGE_LINES * spacingHz);
    if (last !== undefined && centre.frequencyHz - last.frequencyHz < reach) {
      merged[merged.length - 1] = {
        frequencyHz: (last.frequencyHz + centre.frequencyHz) / 2,
        halfWidthHz: Math.max(last.halfWidthHz, centre.halfWidthHz),
        heightDb: Math.max(last.heightDb, centre.heightDb),
      };
    } else merged.push(centre);
  }
  return merged;
}
