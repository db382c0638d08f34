import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, type Frame } from '../../plots/index.ts';
import type { Palette } from '../../theme.ts';
import { formatSignificant } from '../../words/index.ts';
import type { Price } from '../calibrationTypes.ts';
import { NEVER_PERCENT, percentOf } from './priceAt.ts';

export const MARGIN = { l: 58, r: 16, t: 20, b: 38 } as const;
const X_RANGE = [-2, NEVER_PERCENT + 3] as const;
const TICKS = [0, 20, 40, 60, 80, 100, NEVER_PERCENT];
/** Where words stand beside their line: to its right in the left half; one below the other, for the lines may be close. */
const HALF_WAY_PERCENT = 50;
/** Clear of the handle where it stands on the line. */
const BESIDE_HANDLE_PX = 10;
const FIRST_LINE = 1;
const SECOND_LINE = 0.91;
/** Room above the curve; the interval may be cut off, the curve never is. */
const ROOM = 1.6;

export function frameOf(width: number): Frame {
  return { startPx: MARGIN.l, endPx: width - MARGIN.r, range: X_RANGE };
}

/** Expected cost over the threshold, with its interval, the best threshold and the one that costs alone call for. */
export function drawPrice(palette: Palette, { prices }: Price): { data: Data[]; layout: Partial<Layout> } {
  const steps = prices.prices;
  const x = steps.map(({ threshold }) => percentOf(threshold));
  const known = steps.filter(({ cost }) => cost.interval !== null);
  const xKnown = known.map(({ threshold }) => percentOf(threshold));
  const highest = ROOM * Math.max(...steps.map(({ cost }) => cost.value));
  const band = {
    type: 'scatter',
    mode: 'lines',
    line: { width: 0 },
    x: [...xKnown, ...[...xKnown].reverse()],
    y: [
      ...known.map(({ cost }) => cost.interval!.high),
      ...[...known].reverse().map(({ cost }) => cost.interval!.low),
    ],
    fill: 'toself',
    fillcolor: palette.resultFill,
  };
  const curve = {
    type: 'scatter',
    mode: 'lines+markers',
    x,
    y: steps.map(({ cost }) => cost.value),
    line: { color: palette.ink, width: 1.8 },
    marker: { size: 4, color: palette.ink },
  };
  const mark = (at: number, text: string, dash: string, y: number) => ({
    shape: {
      type: 'line',
      x0: at,
      x1: at,
      yref: 'paper',
      y0: 0,
      y1: 1,
      line: { color: palette.prior, width: 1.4, dash },
    },
    annotation: {
      x: at,
      yref: 'paper',
      y,
      xanchor: at < HALF_WAY_PERCENT ? 'left' : 'right',
      xshift: at < HALF_WAY_PERCENT ? BESIDE_HANDLE_PX : -BESIDE_HANDLE_PX,
      yanchor: 'top',
      showarrow: false,
      text,
      bgcolor: palette.panel,
      font: { color: palette.ink },
    },
  });
  const marks = [
    ...(prices.best
      ? [
          mark(
            percentOf(prices.best.threshold),
            `least cost, ${formatSignificant(prices.best.cost)}`,
            'solid',
            FIRST_LINE,
          ),
        ]
      : []),
    mark(percentOf(prices.thresholdByCosts), 'what the costs alone call for', 'dot', SECOND_LINE),
  ];
  return {
    data: [...(known.length > 0 ? [band] : []), curve] as Data[],
    layout: {
      ...baseLayout(palette),
      dragmode: false,
      margin: MARGIN,
      xaxis: {
        ...axisStyle(palette, 'Replace from this chance of being weak on'),
        range: [...X_RANGE],
        tickvals: TICKS,
        ticktext: TICKS.map((tick) => (tick === NEVER_PERCENT ? 'never' : `${tick} %`)),
      },
      yaxis: { ...axisStyle(palette, 'Expected cost a pole'), range: [0, highest], nticks: 6 },
      shapes: marks.map(({ shape }) => shape),
      annotations: marks.map(({ annotation }) => annotation),
    } as unknown as Partial<Layout>,
  };
}
