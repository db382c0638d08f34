import type { Check } from './check.ts';
import { type Evidence, MODE_BANDS } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

/** Checks how far the strongest band stands over the noise; the sentence gives every band. */
export function checkNoise({ levels, knowsNoise }: Evidence): Check {
  if (!knowsNoise) {
    return {
      ...passUnjudged(
        'noise',
        'The recording holds no quiet stretch before or after the blow, so its noise is not known.',
      ),
      verdict: 'use with care',
      advice: 'Start the recorder a second before the blow and let it run until the pole is at rest.',
    };
  }
  const bands = MODE_BANDS.map((band, b) => ({
    name: band.name,
    db: Math.max(...levels.map((channel) => channel[b]!.overNoiseDb)),
  }));
  const value = Math.max(...bands.map((band) => band.db));
  const list = bands.map((band) => `${band.name} ${band.db.toFixed(0)} dB`).join(', ');
  return judge(
    'noise',
    value,
    'below',
    `The blow stands low over the noise: ${list}.`,
    'Strike harder, raise the gain, fasten the sensor, and wait for wind and traffic to calm.',
  );
}
