import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

/**
 * Checks whether the band of mode 1 was excited. A hammer often leaves it at rest; mode 1 then needs a blow
 * by hand.
 */
export function checkLowBand({ levels, knowsNoise, recording }: Evidence): Check {
  if (!knowsNoise)
    return passUnjudged(
      'low-band',
      'Without a quiet stretch the level of the low band over noise is not known.',
    );
  const value = Math.max(...levels.map((channel) => channel[0]!.overNoiseDb));
  const advice =
    recording.exciter === 'hammer'
      ? 'Use this blow for modes 2 and up, and add a blow by hand, high on the pole, for mode 1.'
      : 'Push with the flat or heel of the hand, slower and higher on the pole.';
  return judge(
    'low-band',
    value,
    'below',
    `The band of mode 1 stands only ${value.toFixed(0)} dB over the noise.`,
    advice,
  );
}
