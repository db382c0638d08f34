/** Where the plotting area of an axis lies on screen: first and last pixel, and the values there. */
export type Frame = {
  startPx: number;
  endPx: number;
  range: readonly [number, number];
  /** The axis is evenly spaced in the logarithm. Its range is above zero then. */
  logarithmic?: boolean;
};

/** Pixel of a value along an axis. */
export function pixelOf(frame: Frame, value: number): number {
  const [from, to] = frame.range;
  const share = frame.logarithmic
    ? Math.log(value / from) / Math.log(to / from)
    : (value - from) / (to - from);
  return frame.startPx + share * (frame.endPx - frame.startPx);
}

/** Value at a pixel along an axis. */
export function valueAt(frame: Frame, px: number): number {
  const [from, to] = frame.range;
  const share = (px - frame.startPx) / (frame.endPx - frame.startPx);
  return frame.logarithmic ? from * (to / from) ** share : from + share * (to - from);
}
