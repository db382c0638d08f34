import { sumOf } from '../vectors.ts';
import { computePsd, type PowerDensity } from './computePsd.ts';
import type { NoiseStretch } from './strike.ts';

/** What the early response tells of the blow itself. */
export interface BlowReading {
  readonly contactS: number | null;
  readonly litToHz: number | null;
}

/** The early response: long enough to hold several modes, short enough that the higher ones have not died. */
const EARLY_S = 0.15;
const FROM_HZ = 5;
/** Recorders pass up to here; nothing above is asked. */
const HIGHEST_HZ = 1000;
const HIGHEST_SHARE_OF_RATE = 0.4;
/** Noise scatters line by line; what stands this far over its mean is signal. */
const NOISE_MARGIN = 3;
/**
 * A half-sine force of length T has the spectrum cos(pi f T) / (1 - (2 f T)^2); a beam answers in acceleration with
 * a power that grows as f^1.5 (amplitude as f, modes as f^-0.5 apart). Of the product, 80 % lies below f T = 0.947
 * (integrated numerically).
 */
const ENERGY_SHARE = 0.8;
const CONTACT_TIMES_FREQUENCY = 0.947;
/** Levels are compared in bands of a third of an octave, down to this share of the strongest (-10 dB). */
const BANDS_AN_OCTAVE = 3;
const LIT_SHARE = 0.1;
/** Where the energy reaches this close to the highest frequency read, the contact is too short to be told. */
const CLOSE_TO_HIGHEST = 0.8;

/** Density of the noise of each channel, in the lines of an early response; null where it is not known. */
export function readQuietPower(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  noise: NoiseStretch,
): PowerDensity[] | null {
  if (noise.source === 'none') return null;
  const segmentLength = Math.round(EARLY_S * sampleRateHz);
  return channels.map((samples) =>
    computePsd(samples.subarray(noise.startIndex, noise.endIndex), { sampleRateHz, segmentLength }),
  );
}

/**
 * Estimates how long hammer or hand was in contact, and up to which frequency the blow lit the pole, from the
 * spectrum of the first 0.15 s over all channels less the noise. The force was not measured: its spectrum is
 * mixed with where the modes lie and how they move at sensor and blow, so the contact time is good to half as
 * much again (simulated strikes: 0.69 to 1.53 of the truth), enough to tell hammer (5 ms) from hand (30 ms).
 * @param quiet - from {@link readQuietPower}
 * @returns nulls where there is no quiet stretch to know the noise by, or nothing stands out of it
 */
export function readBlow(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  startIndex: number,
  quiet: readonly PowerDensity[] | null,
): BlowReading {
  const length = Math.round(EARLY_S * sampleRateHz);
  const end = Math.min(channels[0]!.length, startIndex + length);
  const highestHz = Math.min(HIGHEST_HZ, HIGHEST_SHARE_OF_RATE * sampleRateHz);
  const unknown = { contactS: null, litToHz: null };
  if (quiet === null || startIndex === 0 || end - startIndex < length || highestHz < 10 * FROM_HZ)
    return unknown;
  const { frequencyHz, power } = readEarlyPower(channels, sampleRateHz, startIndex, end, quiet);
  const first = frequencyHz.findIndex((value) => value >= FROM_HZ);
  const last = frequencyHz.findLastIndex((value) => value <= highestHz);
  let whole = 0;
  for (let k = first; k <= last; k++) whole += power[k]!;
  if (whole === 0) return unknown;
  let sum = 0;
  let at = first;
  while (sum < ENERGY_SHARE * whole) sum += power[at++]!;
  const energyHz = frequencyHz[at]!;
  return {
    contactS: energyHz > CLOSE_TO_HIGHEST * highestHz ? null : CONTACT_TIMES_FREQUENCY / energyHz,
    litToHz: findLitBand(frequencyHz, power, highestHz),
  };
}

function readEarlyPower(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  start: number,
  end: number,
  quiet: readonly PowerDensity[],
): { frequencyHz: Float64Array; power: Float64Array } {
  const segmentLength = end - start;
  const spectra = channels.map((samples, c) => {
    const early = computePsd(samples.subarray(start, end), {
      sampleRateHz,
      segmentLength,
      window: 'rectangular',
    });
    const { density } = quiet[c]!;
    // A rest shorter than the early response has fewer lines; its mean level stands for each.
    const level = sumOf(density) / density.length;
    const isWhole = density.length === early.density.length;
    const power = new Float64Array(early.density.length);
    for (let k = 0; k < power.length; k++)
      power[k] = Math.max(0, early.density[k]! - NOISE_MARGIN * (isWhole ? density[k]! : level));
    return { frequencyHz: early.frequencyHz, power };
  });
  const power = new Float64Array(spectra[0]!.power.length);
  for (const spectrum of spectra)
    for (let k = 0; k < power.length; k++) power[k] = power[k]! + spectrum.power[k]!;
  return { frequencyHz: spectra[0]!.frequencyHz, power };
}

/** Upper edge of the highest band whose mean density is within 10 dB of that of the strongest. */
function findLitBand(frequencyHz: Float64Array, power: Float64Array, highestHz: number): number | null {
  const binHz = frequencyHz[1]!;
  const bands: { toHz: number; level: number }[] = [];
  const ratio = 2 ** (1 / BANDS_AN_OCTAVE);
  for (let fromHz = FROM_HZ; fromHz < highestHz; fromHz *= ratio) {
    const toHz = Math.min(fromHz * ratio, highestHz);
    const from = Math.round(fromHz / binHz);
    const to = Math.max(from + 1, Math.round(toHz / binHz));
    const level = sumOf(power.subarray(from, to)) / (to - from);
    bands.push({ toHz, level });
  }
  const strongest = Math.max(...bands.map((band) => band.level));
  return bands.findLast((band) => band.level >= LIT_SHARE * strongest)?.toHz ?? null;
}
