import { greatestDistance } from '../../vectors.ts';
import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

const MAINS_HZ = [50, 60] as const;
const HARMONICS = [1, 2, 3] as const;
/**
 * Distances at which the level beside a line is read; further than the width of a reading of half a second.
 */
const BESIDE_HZ = [-7, -5, 5, 7] as const;
/** A line is a line where it stands this far over what lies beside it. */
const LINE_RATIO = 4;
const LONGEST_READING_S = 1;
const SHORTEST_READING_S = 0.3;
/** Behind this time a mode near 50 Hz has died, so a steady line in the ring-down is hum. */
const SETTLED_S = 2.5;

/** Checks for steady lines at 50 or 60 Hz and their multiples, where the pole is at rest. */
export function checkMainsHum(evidence: Evidence): Check {
  const hum = findHum(evidence);
  if (hum === null) {
    return passUnjudged(
      'mains-hum',
      'No stretch in which the pole is at rest is long enough to tell hum from modes.',
    );
  }
  return judge(
    'mains-hum',
    hum.share,
    'above',
    `Hum of the mains at ${hum.mainsHz} Hz and its multiples has ${(100 * hum.share).toFixed(1)} % of the peak.`,
    'Keep cables and recorder away from conductors, ground the recorder at one point, use a battery.',
  );
}

/**
 * Reads the lines of each mains frequency and picks the stronger.
 * @returns its amplitude as a share of the peak, 0 where no line stands out; null where no stretch at rest is long enough
 */
export function findHum({
  ringDown,
  noise,
  knowsNoise,
  slowRateHz,
}: Evidence): { share: number; mainsHz: number } | null {
  let share = 0;
  let lineHz = 0;
  for (let c = 0; c < ringDown.length; c++) {
    const settled = ringDown[c]!.subarray(Math.round(SETTLED_S * slowRateHz));
    const rest = knowsNoise ? noise[c]! : settled;
    if (rest.length < SHORTEST_READING_S * slowRateHz) return null;
    const read = rest.subarray(-Math.round(LONGEST_READING_S * slowRateHz));
    const peak = greatestDistance(ringDown[c]!, read[0]!);
    for (const mainsHz of MAINS_HZ) {
      const hum = readHum(read, slowRateHz, mainsHz);
      if (peak > 0 && hum / peak > share) {
        share = hum / peak;
        lineHz = mainsHz;
      }
    }
  }
  return { share, mainsHz: lineHz };
}

/**
 * Amplitude of the lines of one mains frequency together, counting those that stand out of what lies beside
 * them.
 */
function readHum(samples: Float64Array, rateHz: number, mainsHz: number): number {
  let power = 0;
  for (const harmonic of HARMONICS) {
    const frequencyHz = mainsHz * harmonic;
    if (frequencyHz > 0.4 * rateHz) continue;
    const line = readAmplitude(samples, rateHz, frequencyHz);
    const beside =
      BESIDE_HZ.reduce((sum, d) => sum + readAmplitude(samples, rateHz, frequencyHz + d), 0) /
      BESIDE_HZ.length;
    if (line > LINE_RATIO * beside) power += line ** 2;
  }
  return Math.sqrt(power);
}

/** Amplitude of a steady sine at one frequency, under a Hann window. */
function readAmplitude(samples: Float64Array, rateHz: number, frequencyHz: number): number {
  const turn = (2 * Math.PI * frequencyHz) / rateHz;
  const count = samples.length;
  let re = 0;
  let im = 0;
  let weights = 0;
  // Sines and cosines are turned on from sample to sample, a fifth of the time of computing each.
  const cosStep = Math.cos(turn);
  const sinStep = Math.sin(turn);
  const cosWindow = Math.cos((2 * Math.PI) / count);
  const sinWindow = Math.sin((2 * Math.PI) / count);
  let cos = 1;
  let sin = 0;
  let windowCos = 1;
  let windowSin = 0;
  for (let i = 0; i < count; i++) {
    const weighted = (1 - windowCos) * samples[i]!;
    re += weighted * cos;
    im += weighted * sin;
    weights += 1 - windowCos;
    const nextCos = cos * cosStep - sin * sinStep;
    sin = sin * cosStep + cos * sinStep;
    cos = nextCos;
    const nextWindow = windowCos * cosWindow - windowSin * sinWindow;
    windowSin = windowSin * cosWindow + windowCos * sinWindow;
    windowCos = nextWindow;
  }
  return (2 * Math.hypot(re, im)) / weights;
}
