import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';
import { readTapping, TAPPING_ABOVE_HZ } from './readTapping.ts';

/**
 * Bending modes above the cut-off die within this time (1 % of damping at 150 Hz: ten time constants in 1 s).
 */
const FROM_S = 0.6;
const TO_S = 2;
const SHORTEST_S = 0.2;
/** Noise scatters; only what exceeds it by half counts. */
const NOISE_MARGIN = 1.5;

/** Checks for high-frequency tapping while the pole still swings: a loose strap or fitting. */
export function checkRattle({ recording, strike, knowsNoise, noiseTapping }: Evidence): Check {
  const { sampleRateHz, channels } = recording;
  const from = strike.startIndex + Math.round(FROM_S * sampleRateHz);
  const to = Math.min(strike.endIndex, strike.startIndex + Math.round(TO_S * sampleRateHz));
  if (to - from < SHORTEST_S * sampleRateHz || noiseTapping.includes(null)) {
    return passUnjudged(
      'rattle',
      'The ring-down is too short, or the sample rate too low, to hear a rattle.',
    );
  }
  if (!knowsNoise)
    return passUnjudged('rattle', 'Without a quiet stretch a rattle cannot be told from noise.');
  let value = 0;
  channels.forEach(({ samplesMPerS2 }, c) => {
    const { swing, tapping } = readTapping(samplesMPerS2.subarray(from, to), sampleRateHz)!;
    const excess = Math.sqrt(Math.max(0, tapping ** 2 - (NOISE_MARGIN * noiseTapping[c]!) ** 2));
    if (swing > 0) value = Math.max(value, excess / swing);
  });
  return judge(
    'rattle',
    value,
    'above',
    `Tapping above ${TAPPING_ABOVE_HZ} Hz goes on through the ring-down, at ${(100 * value).toFixed(0)} % of its level.`,
    'Tighten the strap of the sensor, look for loose fittings near it, and strike again.',
  );
}
