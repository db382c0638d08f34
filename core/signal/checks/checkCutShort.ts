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
 * Checks how much of the decay was recorded, in time constants of the slowest band that rings.
 * The energies of the first and the second half of an exponential decay stand as exp(T / tau), so the logarithm of their ratio is the
 * number of time constants held (of the amplitude); noise is taken off both.
 */
export function checkCutShort(evidence: Evidence): Check {
  const { strike, levels, slowRateHz, ringDown } = evidence;
  const lengthS = (strike.endIndex - strike.startIndex) / evidence.recording.sampleRateHz;
  const advice = 'Let the recorder run until the pole is at rest, 10 s or more, before the next blow.';
  const reason = strike.endReason === 'next strike' ? 'by the next blow' : 'by the end of the recording';
  if (lengthS < SHORTEST_RING_DOWN_S) {
    const text = `The ring-down lasts ${lengthS.toFixed(2)} s, less than one swing of a slow pole; it is cut off ${reason}.`;
    return judge('cut-short', 0, 'below', text, advice);
  }
  const ringing = MODE_BANDS.findIndex((_, b) =>
    levels.some((channel) => channel[b]!.overNoiseDb >= RINGING_DB),
  );
  const band = MODE_BANDS[Math.max(0, ringing)]!;
  let first = 0;
  let second = 0;
  for (let c = 0; c < ringDown.length; c++) {
    const free = ringDown[c]!.subarray(Math.round(BLOW_S * slowRateHz));
    const half = free.length >> 1;
    const noise = levels[c]![Math.max(0, ringing)]!.noise * (band.highHz - band.lowHz);
    first += Math.max(0, measureBandPower(free.subarray(0, half), slowRateHz, band) - noise);
    second += Math.max(0, measureBandPower(free.subarray(half, 2 * half), slowRateHz, band) - noise);
  }
  // Nothing left in the second half: the decay is held in full, to as many time constants as the noise lets one see.
  const value = second > 0 && first > 0 ? Math.max(0, Math.log(first / second)) : WANTED_BY_SPECTRA;
  if (strike.endReason === 'noise')
    return { ...judge('cut-short', WANTED_BY_SPECTRA, 'below', '', ''), value };
  return judge(
    'cut-short',
    value,
    'below',
    `The ring-down is cut off ${reason} after ${value.toFixed(1)} time constants of ${band.name}; spectra want ${WANTED_BY_SPECTRA}, so damping read from them is too high.`,
    advice,
  );
}

function measureBandPower(
  samples: Float64Array,
  rateHz: number,
  band: { readonly lowHz: number; readonly highHz: number },
): number {
  if (samples.length < 8) return 0;
  const { frequencyHz, density } = computePsd(samples, {
    sampleRateHz: rateHz,
    segmentLength: samples.length,
  });
  let power = 0;
  for (let k = 0; k < density.length; k++) {
    if (frequencyHz[k]! >= band.lowHz && frequencyHz[k]! <= band.highHz) power += density[k]!;
  }
  return power * frequencyHz[1]!;
}
