import { decimate } from '../decimate.ts';
import { filterLowPass } from '../filterLowPass.ts';
import { measureRms } from '../ringDown.ts';
import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

/** Rattle is looked for above the modes that matter and below 2 kHz, where a strap and its bolt tap. */
const CUT_OFF_HZ = 150;
const RATE_HZ = 2000;
/**
 * Bending modes above the cut-off die within this time (1 % of damping at 150 Hz: ten time constants in 1 s).
 */
const FROM_S = 0.6;
const TO_S = 2;
const SHORTEST_S = 0.2;

/** Checks for high-frequency tapping while the pole still swings: a loose strap or fitting. */
export function checkRattle({ recording, strike, knowsNoise }: Evidence): Check {
  const factor = Math.max(1, Math.floor(recording.sampleRateHz / RATE_HZ));
  const rateHz = recording.sampleRateHz / factor;
  const from = strike.startIndex + Math.round(FROM_S * recording.sampleRateHz);
  const to = Math.min(strike.endIndex, strike.startIndex + Math.round(TO_S * recording.sampleRateHz));
  if (to - from < SHORTEST_S * recording.sampleRateHz || rateHz < 4 * CUT_OFF_HZ) {
    return passUnjudged(
      'rattle',
      'The ring-down is too short, or the sample rate too low, to hear a rattle.',
    );
  }
  if (!knowsNoise)
    return passUnjudged('rattle', 'Without a quiet stretch a rattle cannot be told from noise.');
  const split = (samples: Float64Array) => {
    const whole = decimate(samples, factor);
    const low = filterLowPass(whole, (2 * CUT_OFF_HZ) / rateHz, 1);
    const high = whole.map((value, i) => value - low[i]!);
    return { low: measureRms(low, 0, low.length), high: measureRms(high, 0, high.length) };
  };
  let value = 0;
  for (const { samplesMPerS2 } of recording.channels) {
    const ringing = split(samplesMPerS2.subarray(from, to));
    const noise = split(samplesMPerS2.subarray(strike.noise.startIndex, strike.noise.endIndex));
    const excess = Math.sqrt(Math.max(0, ringing.high ** 2 - (NOISE_MARGIN * noise.high) ** 2));
    if (ringing.low > 0) value = Math.max(value, excess / ringing.low);
  }
  return judge(
    'rattle',
    value,
    'above',
    `Tapping above ${CUT_OFF_HZ} Hz goes on through the ring-down, at ${(100 * value).toFixed(0)} % of its level.`,
    'Tighten the strap of the sensor, look for loose fittings near it, and strike again.',
  );
}

/** Noise scatters; only what exceeds it by half counts. */
const NOISE_MARGIN = 1.5;
