import type { Data, Layout } from 'plotly.js';
import { axisStyle, baseLayout, bottomAxis } from '../plots/index.ts';
import type { Range } from '../state/index.ts';
import type { Palette } from '../theme.ts';
import type { Stabilisation } from '../types.ts';
import { nameAzimuth } from '../words/index.ts';
import { ringsAlong } from './clusterPicks.ts';
import type { Plane } from './pickRows.ts';
import { domainOf, MARGIN } from './spectrumFrames.ts';

type Status = Stabilisation['poles'][number]['status'];

/** Levels further than this below the highest are not drawn. */
const SHOWN_DECIBELS = 60;
/** Room for the heads of the picks, as a share of the orders. */
const HEADROOM = 0.28;
const HELD_SYMBOLS = ['circle', 'square', 'diamond', 'triangle-down'];
/** What a pole keeps adds to its mark: a dot, a stroke, a cross, the filled mark of its plane. */
const SYMBOLS: Record<Exclude<Status, 'holds'>, { symbol: string; size: number }> = {
  new: { symbol: 'circle', size: 2.5 },
  frequency: { symbol: 'line-ns-open', size: 6 },
  damping: { symbol: 'cross-thin-open', size: 6 },
};
const HELD_PX = 6;

/** Poles by frequency and model order, one field for each plane, over the level of the strikes. */
export function drawOrders(
  palette: Palette,
  { orders, poles, indicator }: Stabilisation,
  planes: readonly Plane[],
  range: Range,
): { data: Data[]; layout: Partial<Layout> } {
  const lowest = (orders[0] ?? 0) - 1;
  const highest = orders.at(-1) ?? 1;
  const axes: Record<string, unknown> = {};
  const data: Record<string, unknown>[] = [];
  for (const [index, { plane, azimuthDeg }] of planes.entries()) {
    const axis = index === 0 ? '' : String(index + 1);
    const levelAxis = String(planes.length + index + 1);
    axes[`yaxis${axis}`] = {
      ...axisStyle(palette, `${nameAzimuth(azimuthDeg)}, order`),
      domain: domainOf(index, planes.length),
      range: [lowest, highest + HEADROOM * (highest - lowest)],
      tickvals: orders.filter((order) => order % 4 === 0),
    };
    axes[`yaxis${levelAxis}`] = {
      overlaying: `y${axis}`,
      anchor: 'x',
      range: [-SHOWN_DECIBELS, HEADROOM * SHOWN_DECIBELS],
      visible: false,
      fixedrange: true,
    };
    data.push({
      type: 'scatter',
      mode: 'lines',
      yaxis: `y${levelAxis}`,
      x: indicator.frequenciesHz,
      y: indicator.planes[plane] ?? [],
      line: { color: palette.prior, width: 1 },
    });
    const own = poles.filter((pole) => ringsAlong(pole, plane));
    const drawn = (status: Status, marker: Record<string, unknown>) => {
      const some = own.filter((pole) => pole.status === status);
      data.push({
        type: 'scatter',
        mode: 'markers',
        yaxis: `y${axis}`,
        x: some.map((pole) => pole.frequencyHz),
        y: some.map((pole) => pole.order),
        marker,
      });
    };
    for (const status of ['new', 'frequency', 'damping'] as const) {
      drawn(status, { ...SYMBOLS[status], color: palette.ink, line: { width: 1.2, color: palette.ink } });
    }
    drawn('holds', {
      symbol: HELD_SYMBOLS[plane % HELD_SYMBOLS.length],
      size: HELD_PX,
      color: palette.planes[plane % palette.planes.length],
    });
  }
  return {
    data: data as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      ...axes,
      margin: MARGIN,
      xaxis: bottomAxis(palette, 'Hz', range, planes.length),
    } as unknown as Partial<Layout>,
  };
}
