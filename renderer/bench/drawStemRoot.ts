import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, type Frame } from '../plots/index.ts';
import type { Palette } from '../theme.ts';
import type { Picture } from '../types.ts';

const PA_PER_GPA = 1e9;
const MARGIN = { l: 52, r: 14, t: 20, b: 36 } as const;
/** Ticks within a decade of fixity, dense where less than this many decades are shown. */
const DENSE_DECADES = 2;
const DENSE_TICKS = [1, 2, 5];
const SPARSE_TICKS = [1, 3];
const DECADES = [0.01, 0.1, 1, 10, 100, 1000];

/** Axes of the picture: E in GPa, and the decimal logarithm of fixity. */
export type ShownRanges = { x: readonly [number, number]; y: readonly [number, number] };

/** Where the picture lies on screen: E in GPa to the right, fixity upwards. */
export type StemRootFrames = { stem: Frame; root: Frame };

export function framesOf(width: number, height: number, { x, y }: ShownRanges): StemRootFrames {
  return {
    stem: { startPx: MARGIN.l, endPx: width - MARGIN.r, range: x },
    root: {
      startPx: height - MARGIN.b,
      endPx: MARGIN.t,
      range: [10 ** y[0], 10 ** y[1]],
      logarithmic: true,
    },
  };
}

/** Grid cells with less than this share of the peak's density are left out of the first view. */
const SHOWN_DENSITY = 0.01;
const ROOM_GPA = 0.3;
const ROOM_DECADES = 0.1;
/** Axes begin and end at whole steps, so that they are not drawn anew with every small move of a pick. */
const STEP_GPA = 1;
const STEP_DECADES = 0.25;

/** What has to be in view: the usual range, the requirement, and where the recordings left some density. */
export function rangesOf({
  modulusPa,
  fixity,
  density,
  classRange,
  requiredModulusPa,
}: Picture): ShownRanges {
  const stems = [...classRange.modulusPa, ...(requiredModulusPa === null ? [] : [requiredModulusPa])];
  const roots: number[] = [...classRange.fixity];
  density.forEach((row, i) => {
    row.forEach((value, j) => {
      if (value < SHOWN_DENSITY) return;
      stems.push(modulusPa[j]!);
      roots.push(fixity[i]!);
    });
  });
  return {
    x: roundOutwards(
      Math.min(...stems) / PA_PER_GPA - ROOM_GPA,
      Math.max(...stems) / PA_PER_GPA + ROOM_GPA,
      STEP_GPA,
    ),
    y: roundOutwards(
      Math.log10(Math.min(...roots)) - ROOM_DECADES,
      Math.log10(Math.max(...roots)) + ROOM_DECADES,
      STEP_DECADES,
    ),
  };
}

function roundOutwards(from: number, to: number, step: number): readonly [number, number] {
  return [Math.floor(from / step) * step, Math.ceil(to / step) * step];
}

/** Ranges only ever grow while a visit is open: a changed pick moves the result, not the axes. */
export function widen(shown: ShownRanges | null, wanted: ShownRanges): ShownRanges {
  if (!shown) return wanted;
  const isWideEnough = covers(shown.x, wanted.x) && covers(shown.y, wanted.y);
  return isWideEnough ? shown : { x: join(shown.x, wanted.x), y: join(shown.y, wanted.y) };
}

type Span = readonly [from: number, to: number];

function covers(outer: Span, inner: Span): boolean {
  return outer[0] <= inner[0] && outer[1] >= inner[1];
}

function join(a: Span, b: Span): Span {
  return [Math.min(a[0], b[0]), Math.max(a[1], b[1])];
}

/** The axes of the plane of stem and root; what lies over them moves with the picks, and they are slow to draw. */
export function drawStemRoot(
  palette: Palette,
  { x, y }: ShownRanges,
): { data: Data[]; layout: Partial<Layout> } {
  const dense = y[1] - y[0] < DENSE_DECADES;
  const ticks = DECADES.flatMap((decade) =>
    (dense ? DENSE_TICKS : SPARSE_TICKS).map((tick) => Number((tick * decade).toPrecision(2))),
  );
  return {
    // a plot without any trace has no axes
    data: [{ type: 'scatter', x: [null], y: [null] }] as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      dragmode: false,
      margin: MARGIN,
      xaxis: { ...axisStyle(palette, 'Stem: modulus of elasticity E, GPa'), range: [...x] },
      yaxis: {
        ...axisStyle(palette, 'Root: fixity'),
        type: 'log',
        range: [...y],
        tickvals: ticks,
        ticktext: ticks.map(String),
      },
    },
  };
}
