import { formatSignificant } from '../../words/index.ts';
import type { Price } from '../calibrationTypes.ts';

type Step = Price['prices']['prices'][number];

/** Where a threshold lies along the axis, in per cent: "never" stands behind 100 %. */
export const NEVER_PERCENT = 110;
/** Digits beyond are dust of the hundred. */
const TYPED_DIGITS = 12;
const MOST_DIGITS = 12;

export function percentOf(threshold: number | null): number {
  return threshold === null ? NEVER_PERCENT : 100 * threshold;
}

/** The price of a threshold: all that part the tests alike cost the same; where the list was thinned, the next above it. */
export function stepOf(steps: readonly Step[], threshold: number | null): number {
  const last = steps.length - 1;
  if (threshold === null) return last;
  const at = steps.findIndex(({ highest }) => highest !== null && threshold <= highest);
  return at < 0 ? last : at;
}

/** Which thresholds part the tests as this one does, or nearly so. */
export function nameAlike({ above, highest }: Step, threshold: number | null): string {
  const isNear = above !== null && threshold !== null && threshold <= above;
  const gap = 100 * ((highest ?? 1) - (above ?? 0));
  const digits = gap > 0 ? Math.min(Math.ceil(-Math.log10(gap)), MOST_DIGITS) : 0;
  const ends = [
    above !== null && `above ${namePercent(above, digits)}`,
    highest !== null && `up to ${namePercent(highest, digits)}`,
  ];
  return [isNear ? 'nearly the same as' : 'the same', ...ends].filter(Boolean).join(' ');
}

/** A threshold in per cent as it was typed; where the tests part it is no round number, and three digits of it do. */
export function showPercent(steps: readonly Step[], threshold: number): string {
  const isParting = steps.some((step) => step.threshold === threshold);
  return isParting
    ? formatSignificant(100 * threshold)
    : String(Number((100 * threshold).toPrecision(TYPED_DIGITS)));
}

/** The priced threshold nearest to a place along the axis. */
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
  return namePercent(threshold);
}

/** @param digits - behind the point, where more than usual are needed */
function namePercent(share: number, digits = 0): string {
  const usual = share > 0 && share < 0.1 ? 1 : 0;
  return `${(100 * share).toFixed(Math.max(usual, digits))} %`;
}
