import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

/**
 * Checks whether sensor and recorder pass the band of mode 1: a high-pass corner above it takes most of it
 * away.
 */
export function checkCorner({ recording }: Evidence): Check {
  const corners = recording.channels.flatMap((channel) =>
    channel.cornerHz === null ? [] : [channel.cornerHz],
  );
  if (corners.length === 0)
    return passUnjudged('corner', 'The corner frequency of sensor and recorder is not stated.');
  const value = Math.max(...corners);
  return judge(
    'corner',
    value,
    'above',
    `Sensor and recorder pass only what lies above ${value} Hz, so mode 1 may be weakened or missing.`,
    'Use a sensor and recorder with a corner at 0.5 Hz or lower.',
  );
}
