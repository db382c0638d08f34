import type { Check } from './check.ts';
import { type Evidence, sumPower } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

/** Channels whose azimuths agree within this look along the same plane. */
const SAME_PLANE_DEG = 20;

/** Checks whether both planes were excited, by the amplitude of the weaker over that of the stronger. */
export function checkWeakPlane({ recording, levels }: Evidence): Check {
  const planes: { azimuthDeg: number; power: number }[] = [];
  recording.channels.forEach((channel, c) => {
    const power = sumPower(levels[c]!);
    const same = planes.find((plane) => angleBetween(plane.azimuthDeg, channel.azimuthDeg) <= SAME_PLANE_DEG);
    // Several heights in one plane: the strongest tells how well the plane was excited.
    if (same === undefined) planes.push({ azimuthDeg: channel.azimuthDeg, power });
    else same.power = Math.max(same.power, power);
  });
  const strongest = Math.max(...planes.map((plane) => plane.power));
  if (planes.length < 2 || strongest === 0) return passUnjudged('weak-plane', 'Only one plane was recorded.');
  const weakest = planes.reduce((a, b) => (b.power < a.power ? b : a));
  const value = Math.sqrt(weakest.power / strongest);
  return judge(
    'weak-plane',
    value,
    'below',
    `The plane at ${weakest.azimuthDeg} degrees moved only ${(100 * value).toFixed(0)} % as much as the other: the blow was not near 45 degrees.`,
    'Strike midway between the two axes of the sensor.',
  );
}

/** Angle between two lines through the pole, 0 to 90 degrees. */
function angleBetween(a: number, b: number): number {
  const turn = Math.abs(a - b) % 180;
  return Math.min(turn, 180 - turn);
}
