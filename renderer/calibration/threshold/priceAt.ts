import type { Price } from '../calibrationTypes.ts';

type Step = Price['prices']['prices'][number];

/** Where a threshold lies along the axis, in per cent: "never" stands behind 100 %. */
export const NEVER_PERCENT = 110;

export function percentOf(threshold: number | null): number {
  return threshold === null ? NEVER_PERCENT : 100 * threshold;
}

/** The priced threshold nearest to a chance; between two of them all tests are parted alike. */
export function nearestStep(steps: readonly Step[], threshold: number | null): number {
  const wanted = percentOf(threshold);
  let nearest = 0;
  for (const [index, step] of steps.entries()) {
    const isNearer =
      Math.abs(percentOf(step.threshold) - wanted) < Math.abs(percentOf(steps[nearest]!.threshold) - wanted);
    if (isNearer) nearest = index;
  }
  return nearest;
}

export function nameThreshold(threshold: number | null): string {
  if (threshold === null) return 'never';
  if (threshold === 0) return 'always';
  return `${(100 * threshold).toFixed(threshold < 0.1 ? 1 : 0)} %`;
}
