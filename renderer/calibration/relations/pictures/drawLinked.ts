import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout } from '../../../plots/index.ts';
import type { Palette } from '../../../theme.ts';
import type { LinkedPoint, PlotFrames } from '../../linked/pointPlaces.ts';

const MARGIN = { l: 50, r: 12, t: 8, b: 34 } as const;
/** Room beyond the outermost points, as a share of their span. */
const ROOM_SHARE = 0.06;
/** Marks by species, in the order of the tests; shape alone tells them apart. */
export const SYMBOLS = ['circle', 'square', 'diamond', 'triangle-up', 'cross', 'star'] as const;
const MARK_PX = 7;
const CHOSEN_PX = 10;

export type Span = readonly [number, number];

export type LinkedPicture = {
  data: Data[];
  layout: Partial<Layout>;
  ranges: { x: Span; y: Span };
};

export type PictureParts = {
  points: readonly LinkedPoint[];
  /** One of SYMBOLS for each point. */
  symbols: readonly string[];
  chosen: readonly number[];
  xTitle: string;
  yTitle: string;
  /** Values that must be in sight besides the points. */
  alsoX?: readonly number[];
  alsoY?: readonly number[];
  /** Lines and bands below the points. */
  below?: readonly Data[];
  shapes?: readonly object[];
  annotations?: readonly object[];
};

/** A picture of break tests as points: hollow marks, filled and larger where they are chosen. */
export function drawLinked(palette: Palette, parts: PictureParts): LinkedPicture {
  const { points, symbols, chosen, xTitle, yTitle } = parts;
  const ranges = {
    x: spanOf([...points.map(({ x }) => x), ...(parts.alsoX ?? [])]),
    y: spanOf([...points.map(({ y }) => y), ...(parts.alsoY ?? [])]),
  };
  const isChosen = points.map(({ testId }) => chosen.includes(testId));
  const marks = {
    type: 'scatter',
    mode: 'markers',
    x: points.map(({ x }) => x),
    y: points.map(({ y }) => y),
    marker: {
      symbol: symbols.map((symbol, i) => (isChosen[i] ? symbol : `${symbol}-open`)),
      size: isChosen.map((is) => (is ? CHOSEN_PX : MARK_PX)),
      color: isChosen.map((is) => (is ? palette.result : palette.ink)),
      opacity: 1,
      line: { width: 1.3, color: palette.ink },
    },
  };
  return {
    ranges,
    data: [...(parts.below ?? []), marks] as Data[],
    layout: {
      ...baseLayout(palette),
      dragmode: false,
      margin: MARGIN,
      xaxis: { ...axisStyle(palette, xTitle), range: [...ranges.x], nticks: 6 },
      yaxis: { ...axisStyle(palette, yTitle), range: [...ranges.y], nticks: 6 },
      shapes: parts.shapes ?? [],
      annotations: parts.annotations ?? [],
    } as unknown as Partial<Layout>,
  };
}

/** Where a linked picture lies on screen. */
export function framesOf({ ranges }: LinkedPicture, width: number, height: number): PlotFrames {
  return {
    x: { startPx: MARGIN.l, endPx: width - MARGIN.r, range: ranges.x },
    y: { startPx: height - MARGIN.b, endPx: MARGIN.t, range: ranges.y },
  };
}

/** A straight line across the picture, for a limit or an ideal. */
export function ruleLine(
  palette: Palette,
  from: readonly [number, number],
  to: readonly [number, number],
  dash = 'dash',
) {
  return {
    type: 'line',
    layer: 'below',
    x0: from[0],
    y0: from[1],
    x1: to[0],
    y1: to[1],
    line: { color: palette.prior, width: 1.3, dash },
  };
}

/** Least and greatest of some numbers with room around; something even where there are none. */
export function spanOf(values: readonly number[]): Span {
  const finite = values.filter(Number.isFinite);
  if (finite.length === 0) return [0, 1];
  const low = Math.min(...finite);
  const high = Math.max(...finite);
  const room = (high - low || Math.abs(high) || 1) * ROOM_SHARE;
  return [low - room, high + room];
}
