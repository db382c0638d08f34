import normal from '@stdlib/stats-base-dists-normal';
import type { Interval } from './judgedTest.ts';

const HALVINGS = 50;

/**
 * Computes an interval of the area under a receiver operating curve from the area and the numbers of poles alone: the areas t
 * from which the one seen is no farther than z standard deviations, those of Hanley and McNeil at t. It keeps a width where
 * the tests part perfectly.
 * Source: Newcombe 2006, Statistics in Medicine 25(4) 559-573, method 5 (from memory); its coverage is simulated in the tests.
 * @param area - 0 to 1
 * @param weak - at least 1, as `sound`; independent poles
 */
export function areaInterval(area: number, weak: number, sound: number, level: number): Interval {
  const z = normal.quantile((1 + level) / 2, 0, 1);
  const pooled = (weak + sound) / 2 - 1;
  const reach = (t: number): number => {
    const spread = 1 + (pooled * (1 - t)) / (2 - t) + (pooled * t) / (1 + t);
    return z * Math.sqrt((t * (1 - t) * spread) / (weak * sound));
  };
  return {
    low: halve(0, area, (t) => area - t > reach(t)),
    high: halve(area, 1, (t) => !(t - area > reach(t))),
    level,
  };
}

/** Finds where a condition that holds from the low end on ceases to hold. */
function halve(from: number, to: number, holds: (t: number) => boolean): number {
  let low = from;
  let high = to;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
