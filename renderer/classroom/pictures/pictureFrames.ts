import { type Frame, valueAt } from '../../plots/index.ts';
import type { Range } from '../../state/index.ts';

/** Margins of every picture of a blow: one under the other, their axes begin and end together, with room for the last number and its unit. */
export const MARGIN = { l: 56, r: 24, t: 16, b: 24 } as const;

export function frameAcross(width: number, range: Range): Frame {
  return { startPx: MARGIN.l, endPx: width - MARGIN.r, range };
}

export function frameUp(height: number, range: Range): Frame {
  return { startPx: height - MARGIN.b, endPx: MARGIN.t, range };
}

/** The value under the pointer along the axis at the bottom; null beside it. */
export function readAcross(at: { x: number; width: number } | null, range: Range): number | null {
  if (!at) return null;
  const frame = frameAcross(at.width, range);
  return at.x >= frame.startPx && at.x <= frame.endPx ? valueAt(frame, at.x) : null;
}

/** The value under the pointer along the upright axis; null above and below it. */
export function readUp(at: { y: number; height: number } | null, range: Range): number | null {
  if (!at) return null;
  const frame = frameUp(at.height, range);
  return at.y <= frame.startPx && at.y >= frame.endPx ? valueAt(frame, at.y) : null;
}
