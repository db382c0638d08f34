import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, type Frame } from '../plots/index.ts';
import type { Palette } from '../theme.ts';
import type { Picture } from '../types.ts';
import { formatSignificant } from '../words/index.ts';

const PA_PER_GPA = 1e9;
const MARGIN = { l: 52, r: 14, t: 20, b: 36 } as const;
/** Ticks within a decade of fixity, dense where less than this many decades are shown. */
const DENSE_DECADES = 2;
const DENSE_TICKS = [1, 2, 3, 5, 7];
const SPARSE_TICKS = [1, 3];
const DECADES = [0.01, 0.1, 1, 10, 100, 1000];

/** Axes of the picture: E in GPa, and the decimal logarithm of fixity. */
export type ShownRanges = { x: readonly [number, number]; y: readonly [number, number] };

/** The part of the picture that stands under what the recordings tell. */
export type Ground = Pick<Picture, 'classRange' | 'requiredModulusPa'>;

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
const ROOM_GPA = 0.6;
const ROOM_DECADES = 0.15;

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
    x: [Math.min(...stems) / PA_PER_GPA - ROOM_GPA, Math.max(...stems) / PA_PER_GPA + ROOM_GPA],
    y: [Math.log10(Math.min(...roots)) - ROOM_DECADES, Math.log10(Math.max(...roots)) + ROOM_DECADES],
  };
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

/** What no pick moves in the plane of stem and root: its axes, the usual range, and the requirement. */
export function drawStemRoot(
  palette: Palette,
  { classRange: range, requiredModulusPa }: Ground,
  { x: xRange, y: yRange }: ShownRanges,
): { data: Data[]; layout: Partial<Layout> } {
  const [boxLow, boxHigh] = range.modulusPa.map((pa) => pa / PA_PER_GPA) as [number, number];
  const requiredGPa = requiredModulusPa === null ? null : requiredModulusPa / PA_PER_GPA;
  const dense = yRange[1] - yRange[0] < DENSE_DECADES;
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
      xaxis: { ...axisStyle(palette, 'Stem: modulus of elasticity E, GPa'), range: [...xRange] },
      yaxis: {
        ...axisStyle(palette, 'Root: fixity'),
        type: 'log',
        range: [...yRange],
        tickvals: ticks,
        ticktext: ticks.map(String),
      },
      shapes: [
        {
          type: 'rect',
          x0: boxLow,
          x1: boxHigh,
          y0: range.fixity[0],
          y1: range.fixity[1],
          layer: 'below',
          fillcolor: palette.band,
          line: { color: palette.prior, width: 1.2, dash: 'dot' },
        },
        ...(requiredGPa === null
          ? []
          : [
              {
                type: 'line',
                x0: requiredGPa,
                x1: requiredGPa,
                yref: 'paper',
                y0: 0,
                y1: 1,
                line: { color: palette.ink, width: 1.6, dash: 'longdashdot' },
              },
            ]),
      ],
      annotations: [
        {
          x: boxHigh,
          // at its foot: what the recordings leave possible lies higher, more often than not
          y: Math.log10(range.fixity[0]),
          xanchor: 'right',
          yanchor: 'bottom',
          showarrow: false,
          text: 'usual before recording',
          font: { color: palette.prior },
        },
        ...(requiredGPa === null
          ? []
          : [
              {
                x: requiredGPa,
                yref: 'paper',
                y: 1,
                xanchor: requiredGPa > (xRange[0] + xRange[1]) / 2 ? 'right' : 'left',
                yanchor: 'bottom',
                showarrow: false,
                text: `required: E ${formatSignificant(requiredGPa)} GPa`,
              },
            ]),
      ],
    } as unknown as Partial<Layout>,
  };
}
