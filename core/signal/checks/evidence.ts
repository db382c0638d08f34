import type { CalibratedRecording } from '../../recording/index.ts';
import { computePsd } from '../computePsd.ts';
import { decimate } from '../decimate.ts';
import type { NoiseStretch, Strike } from '../strike.ts';
import { readTapping } from './readTapping.ts';

/** Where the modes of standing poles lie (common practice, no source), cut so that bands do not overlap. */
export const MODE_BANDS = [
  { name: 'mode 1', lowHz: 0.8, highHz: 5, readS: 4 },
  { name: 'mode 2', lowHz: 5, highHz: 18, readS: 2 },
  { name: 'mode 3', lowHz: 18, highHz: 55, readS: 0.7 },
] as const;

/** Modes and mains are read at 500 to 1000 Hz. */
const SLOW_RATE_HZ = 500;
/** The blow itself lasts up to 40 ms (hand); readings of the free decay start behind it. */
export const BLOW_S = 0.04;
/** Densities below this share of the strongest are rounding, not noise. */
const DIGITAL_FLOOR = 1e-12;
/** Fewer make no spectrum. */
const FEWEST_SAMPLES = 8;

/** Level of one band in one channel. */
interface BandLevel {
  /** Density at the highest peak in the ring-down, unit squared per Hz; the mean where the band has no peak. */
  readonly ringing: number;
  /** Where it is. */
  readonly peakHz: number;
  /** Mean density of the noise. */
  readonly noise: number;
  readonly overNoiseDb: number;
  /** Power of the ring-down over the whole band less that of the noise, unit squared. */
  readonly power: number;
}

/** What the quiet stretch of a recording tells, alike for all of its strikes; one entry a channel. */
interface Quiet {
  readonly stretch: NoiseStretch;
  /** The samples at the slow rate. */
  readonly noise: readonly Float64Array[];
  /** Mean density by band, as in {@link MODE_BANDS}. */
  readonly densities: readonly (readonly number[])[];
  /** Level above the modes; null where the sample rate is too low. */
  readonly tapping: readonly (number | null)[];
}

/** What the checks of one strike share, computed once. */
export interface Evidence extends Pick<Quiet, 'noise'> {
  readonly recording: CalibratedRecording;
  readonly strike: Strike;
  /** True where the recording holds a quiet stretch, so that levels over noise mean something. */
  readonly knowsNoise: boolean;
  readonly slowRateHz: number;
  /** From the onset to the end of the ring-down, one a channel, at the slow rate. */
  readonly ringDown: readonly Float64Array[];
  /** Level of the noise where a rattle taps, one a channel; null where the sample rate is too low. */
  readonly noiseTapping: Quiet['tapping'];
  /** `levels[channel][band]`, bands as in {@link MODE_BANDS}. */
  readonly levels: readonly (readonly BandLevel[])[];
}

/** Power of the modes of one channel over the noise: how well the blow set its plane moving. */
export function sumPower(levels: readonly BandLevel[]): number {
  return levels.reduce((sum, { power }) => sum + power, 0);
}

/** Gathers what the checks share, for each of the strikes of a recording. */
export function gatherEvidence(recording: CalibratedRecording, strikes: readonly Strike[]): Evidence[] {
  const factor = Math.max(1, Math.floor(recording.sampleRateHz / SLOW_RATE_HZ));
  const slowRateHz = recording.sampleRateHz / factor;
  const cut = (from: number, to: number) =>
    recording.channels.map((channel) => decimate(channel.samplesMPerS2.subarray(from, to), factor));
  let quiet: Quiet | null = null;
  return strikes.map((strike): Evidence => {
    const { startIndex, endIndex, source } = strike.noise;
    // strikes that were found together share one
    if (quiet?.stretch !== strike.noise) {
      const noise = cut(startIndex, endIndex);
      quiet = {
        stretch: strike.noise,
        noise,
        densities: noise.map((samples) => MODE_BANDS.map((band) => readBand(samples, slowRateHz, band).mean)),
        tapping: recording.channels.map(
          ({ samplesMPerS2 }) =>
            readTapping(samplesMPerS2.subarray(startIndex, endIndex), recording.sampleRateHz)?.tapping ??
            null,
        ),
      };
    }
    const { noise, densities, tapping } = quiet;
    const ringDown = cut(strike.startIndex, strike.endIndex);
    return {
      recording,
      strike,
      knowsNoise: source !== 'none',
      slowRateHz,
      ringDown,
      noise,
      noiseTapping: tapping,
      levels: ringDown.map((samples, c) => readLevels(samples, densities[c]!, slowRateHz)),
    };
  });
}

/**
 * Reads the density of each band over a Hann window as long as its mode rings: the window starts and ends at
 * zero, so that neither the jump of the onset nor a stronger mode beside the band leaks in. Noise is averaged
 * over all that there is of it.
 */
function readLevels(ringDown: Float64Array, noiseDensities: readonly number[], rateHz: number): BandLevel[] {
  const free = ringDown.subarray(Math.min(Math.round(BLOW_S * rateHz), ringDown.length >> 1));
  const bands = MODE_BANDS.map((band) =>
    readBand(free.subarray(0, Math.round(band.readS * rateHz)), rateHz, band),
  );
  const highest = Math.max(...bands.map((ringing) => ringing.highest));
  const floor = Math.max(DIGITAL_FLOOR * highest, Number.MIN_VALUE);
  return bands.map((ringing, b) => ({
    ringing: ringing.highest,
    peakHz: ringing.peakHz,
    noise: noiseDensities[b]!,
    overNoiseDb: 10 * Math.log10(Math.max(ringing.highest, floor) / Math.max(noiseDensities[b]!, floor)),
    power: Math.max(0, ringing.mean - noiseDensities[b]!) * (MODE_BANDS[b]!.highHz - MODE_BANDS[b]!.lowHz),
  }));
}

/**
 * The flank of a mode beside the band may rise above all that the band holds: it is no peak, so only lines that are
 * higher than both neighbours count.
 */
function readBand(
  samples: Float64Array,
  rateHz: number,
  band: (typeof MODE_BANDS)[number],
): { highest: number; peakHz: number; mean: number } {
  const segmentLength = Math.min(Math.round(band.readS * rateHz), samples.length);
  let highest = 0;
  let peakHz: number = band.lowHz;
  let sum = 0;
  let count = 0;
  if (segmentLength < FEWEST_SAMPLES) return { highest, peakHz, mean: 0 };
  const { frequencyHz, density } = computePsd(samples, { sampleRateHz: rateHz, segmentLength });
  for (let k = 0; k < density.length; k++) {
    if (frequencyHz[k]! < band.lowHz || frequencyHz[k]! > band.highHz) continue;
    sum += density[k]!;
    count++;
    if (density[k]! <= highest || isFlank(density, k)) continue;
    highest = density[k]!;
    peakHz = frequencyHz[k]!;
  }
  const mean = count > 0 ? sum / count : 0;
  return { highest: highest > 0 ? highest : mean, peakHz, mean };
}

function isFlank(density: Float64Array, k: number): boolean {
  return density[k - 1]! > density[k]! || density[k + 1]! > density[k]!;
}
