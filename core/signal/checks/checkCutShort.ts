import { computePsd } from '../computePsd.ts';
import type { Check } from './check.ts';
import { BLOW_S, type Evidence, MODE_BANDS } from './evidence.ts';
import { judge } from './judge.ts';
import { CHECK_LIMITS } from './limits.ts';

/** One period of the slowest mode 1 (1.2 Hz): with less, nothing tells a swing from a drift. */
const SHORTEST_RING_DOWN_S = 0.83;
/** A band counts as ringing from this level on, as in the check of the low band. */
const RINGING_DB = CHECK_LIMITS['low-band'].care;
/** Time constants wanted where damping is read from the width of a spectral line. */
const WANTED_BY_SPECTRA = 6;
/**
 * The decay is measured where both halves are long enough to part the bands and stand well over the noise...
 */
const MEASURED_FROM_S = 2;
const MEASURED_FROM_DB = 25;
/** ...and else reckoned with a usual damping ratio of standing poles (common practice, no source). */
const USUAL_DAMPING_RATIO = 0.02;

/** Checks how much of the decay was recorded, in time constants of the slowest band that rings. */
export function checkCutShort(evidence: Evidence): Check {
  const { strike, levels } = evidence;
  const lengthS = (strike.endIndex - strike.startIndex) / evidence.recording.sampleRateHz;
  const cause = {
    noise: 'sinks into the noise',
    'next strike': 'is cut off by the next blow',
    'record end': 'is cut off by the end of the recording',
  }[strike.endReason];
  const advice = 'Let the recorder run until the pole is at rest, 10 s or more, before the next blow.';
  const ringing = MODE_BANDS.findIndex((_, b) =>
    levels.some((channel) => channel[b]!.overNoiseDb >= RINGING_DB),
  );
  const bandAt = Math.max(0, ringing);
  const value = countTimeConstants(evidence, bandAt, lengthS);
  if (lengthS < SHORTEST_RING_DOWN_S) {
    const text = `The ring-down ${cause} after ${lengthS.toFixed(2)} s, less than one swing of a slow pole.`;
    return { ...judge('cut-short', 0, 'below', text, advice), verdict: 'repeat', value };
  }
  if (strike.endReason === 'noise')
    return { ...judge('cut-short', WANTED_BY_SPECTRA, 'below', '', ''), value };
  return judge(
    'cut-short',
    value,
    'below',
    `The ring-down ${cause} after ${value.toFixed(1)} time constants of ${MODE_BANDS[bandAt]!.name}; spectra want ${WANTED_BY_SPECTRA}, so damping read from them is too high.`,
    advice,
  );
}

/**
 * The powers of the first and the second half of an exponential decay stand as exp(T / tau) to 1, so the
 * logarithm of their ratio is the number of time constants (of the amplitude) held. They are read at the peak of the
 * band under a Hann window, where what a stronger mode beside the band leaks in is least, over all channels together,
 * since two planes that beat pass their motion from one to the other.
 */
function countTimeConstants(evidence: Evidence, bandAt: number, lengthS: number): number {
  const { levels, ringDown, slowRateHz } = evidence;
  const strongest = levels.reduce((a, b) => (b[bandAt]!.ringing > a[bandAt]!.ringing ? b : a))[bandAt]!;
  const reckoned = 2 * Math.PI * USUAL_DAMPING_RATIO * strongest.peakHz * lengthS;
  if (lengthS < MEASURED_FROM_S || strongest.overNoiseDb < MEASURED_FROM_DB) return reckoned;
  let first = 0;
  let second = 0;
  for (let c = 0; c < ringDown.length; c++) {
    const free = ringDown[c]!.subarray(Math.round(BLOW_S * slowRateHz));
    const half = free.length >> 1;
    const { noise } = levels[c]![bandAt]!;
    first += Math.max(0, readDensityAt(free.subarray(0, half), slowRateHz, strongest.peakHz) - noise);
    second += Math.max(0, readDensityAt(free.subarray(half, 2 * half), slowRateHz, strongest.peakHz) - noise);
  }
  return second > 0 && first > second ? Math.log(first / second) : reckoned;
}

function readDensityAt(samples: Float64Array, rateHz: number, frequencyHz: number): number {
  const spectrum = computePsd(samples, { sampleRateHz: rateHz, segmentLength: samples.length });
  return spectrum.density[Math.round(frequencyHz / spectrum.frequencyHz[1]!)]!;
}
