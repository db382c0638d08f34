export type AxisRange = readonly [number, number];

/** Of the range in view: one press of an arrow key, and one with Shift. */
const STEP_SHARE = 0.1;
const LARGE_STEP_SHARE = 0.5;
const ZOOM_FACTOR = 1.5;

/**
 * The range of an axis after a key: arrows move it, plus and minus zoom about its middle.
 * @returns null for the key that shows all, undefined for one that means nothing here
 */
export function moveByKey(
  key: string,
  isLarge: boolean,
  [from, to]: AxisRange,
): AxisRange | null | undefined {
  const step = (to - from) * (isLarge ? LARGE_STEP_SHARE : STEP_SHARE);
  if (key === 'ArrowRight') return [from + step, to + step];
  if (key === 'ArrowLeft') return [from - step, to - step];
  if (key === '+' || key === '=') return zoom([from, to], 1 / ZOOM_FACTOR);
  if (key === '-') return zoom([from, to], ZOOM_FACTOR);
  return key === '0' ? null : undefined;
}

function zoom([from, to]: AxisRange, factor: number): AxisRange {
  const middle = (from + to) / 2;
  const half = ((to - from) / 2) * factor;
  return [middle - half, middle + half];
}

/** A range moved, not cut, until it lies within the whole; one wider than the whole becomes the whole. */
export function keepInside([from, to]: AxisRange, [least, most]: AxisRange): AxisRange {
  if (to - from >= most - least) return [least, most];
  const shift = Math.max(least - from, 0) - Math.max(to - most, 0);
  return [from + shift, to + shift];
}
