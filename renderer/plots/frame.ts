/** Where the plotting area of an axis lies on screen: first and last pixel, and the values there. */
export type Frame = { startPx: number; endPx: number; range: readonly [number, number] };

/** Pixel of a value along an axis. */
export function pixelOf(frame: Frame, value: number): number {
  const [from, to] = frame.range;
  return frame.startPx + ((value - from) / (to - from)) * (frame.endPx - frame.startPx);
}

/** Value at a pixel along an axis. */
export function valueAt(frame: Frame, px: number): number {
  const [from, to] = frame.range;
  return from + ((px - frame.startPx) / (frame.endPx - frame.startPx)) * (to - from);
}
