import type { CalibratedRecording } from '../../recording/index.ts';
import { computePsd } from '../computePsd.ts';
import { decimate } from '../decimate.ts';
import type { Strike } from '../strike.ts';

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
  /** Highest density in the ring-down, unit squared per Hz. */
  readonly ringing: number;
  /** Where it is. */
  readonly peakHz: number;
  /** Mean density of the noise. */
  readonly noise: number;
  readonly overNoiseDb: number;
}

/** What the checks of one strike share, computed once. */
export interface Evidence {
  readonly recording: CalibratedRecording;
  readonly strike: Strike;
  /** True where the recording holds a quiet stretch, so that levels over noise mean something. */
  readonly knowsNoise: boolean;
  readonly slowRateHz: number;
  /** From the onset to the end of the ring-down, one a channel, at the slow rate. */
  readonly ringDown: readonly Float64Array[];
  /** The quiet stretch, one a channel, at the slow rate. */
  readonly noise: readonly Float64Array[];
  /** `levels[channel][band]`, bands as in {@link MODE_BANDS}. */
  readonly levels: readonly (readonly BandLevel[])[];
}

/** Gathers what the checks share. */
export function gatherEvidence(recording: CalibratedRecording, strike: Strike): Evidence {
  const factor = Math.max(1, Math.floor(recording.sampleRateHz / SLOW_RATE_HZ));
  const slowRateHz = recording.sampleRateHz / factor;
  const cut = (from: number, to: number) =>
    recording.channels.map((channel) => decimate(channel.samplesMPerS2.subarray(from, to), factor));
  const ringDown = cut(strike.startIndex, strike.endIndex);
  const noise = cut(strike.noise.startIndex, strike.noise.endIndex);
  const levels = ringDown.map((samples, c) => readLevels(samples, noise[c]!, slowRateHz));
  const knowsNoise = strike.noise.source !== 'none';
  return { recording, strike, knowsNoise, slowRateHz, ringDown, noise, levels };
}

/**
 * Reads the density of each band over a Hann window as long as its mode rings: the window starts and ends at
 * zero, so that neither the jump of the onset nor a stronger mode beside the band leaks in. Noise is averaged
 * over all that there is of it.
 */
function readLevels(ringDown: Float64Array, noise: Float64Array, rateHz: number): BandLevel[] {
  const free = ringDown.subarray(Math.min(Math.round(BLOW_S * rateHz), ringDown.length >> 1));
  const bands = MODE_BANDS.map((band) => {
    const length = Math.round(band.readS * rateHz);
    return {
      ringing: readBand(free.subarray(0, length), rateHz, band),
      noise: readBand(noise, rateHz, band),
    };
  });
  const highest = Math.max(...bands.map(({ ringing }) => ringing.highest));
  const floor = Math.max(DIGITAL_FLOOR * highest, Number.MIN_VALUE);
  return bands.map(({ ringing, noise: { mean } }) => ({
    ringing: ringing.highest,
    peakHz: ringing.peakHz,
    noise: mean,
    overNoiseDb: 10 * Math.log10(Math.max(ringing.highest, floor) / Math.max(mean, floor)),
  }));
}

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
    if (density[k]! <= highest) continue;
    highest = density[k]!;
    peakHz = frequencyHz[k]!;
  }
  return { highest, peakHz, mean: count > 0 ? sum / count : 0 };
}
