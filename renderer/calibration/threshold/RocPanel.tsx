import type { Data, Layout } from 'plotly.js';
import { useMemo } from 'react';
import { Panel, usePalette } from '../../parts/index.ts';
import { axisStyle, baseLayout, Figure } from '../../plots/index.ts';
import type { Palette } from '../../theme.ts';
import { formatShare } from '../../words/index.ts';
import type { Price } from '../calibrationTypes.ts';
import { nameThreshold } from './priceAt.ts';

type Roc = NonNullable<Price['roc']>;

/** Receiver operating curve: weak poles caught against sound poles replaced, at every threshold. */
export function RocPanel({ roc, threshold }: { roc: Price['roc']; threshold: number | null }) {
  const palette = usePalette();
  const figure = useMemo(() => roc && draw(palette, roc, threshold), [palette, roc, threshold]);
  if (!roc || !figure) {
    return (
      <Panel title="Caught against needless">
        <p className="nothing">The tests hold weak poles only, or none: there is no curve to draw.</p>
      </Panel>
    );
  }
  const { area, interval } = roc;
  const label = `Weak poles caught against sound poles replaced: area ${area.toFixed(2)}${interval ? ` (${interval.low.toFixed(2)} to ${interval.high.toFixed(2)})` : ''}; 0.5 is chance, 1 parts them perfectly`;
  return (
    <Panel
      title="Caught against needless"
      remark={`area ${area.toFixed(2)}`}
      table={{
        caption: label,
        columns: ['Replace from', 'Weak poles caught', 'Sound poles replaced'],
        rows: roc.points.map((point) => [
          nameThreshold(point.threshold),
          formatShare(point.caughtShare),
          formatShare(point.needlessShare),
        ]),
      }}
    >
      <Figure label={label} data={figure.data} layout={figure.layout} />
    </Panel>
  );
}

function draw(
  palette: Palette,
  roc: Roc,
  threshold: number | null,
): { data: Data[]; layout: Partial<Layout> } {
  const percent = (share: number) => 100 * share;
  const at = roc.points.find((point) => point.threshold === threshold);
  const curve = {
    type: 'scatter',
    mode: 'lines+markers',
    x: roc.points.map(({ needlessShare }) => percent(needlessShare)),
    y: roc.points.map(({ caughtShare }) => percent(caughtShare)),
    line: { color: palette.ink, width: 1.8 },
    marker: { size: 4, color: palette.ink },
  };
  const here = {
    type: 'scatter',
    mode: 'markers',
    x: at ? [percent(at.needlessShare)] : [],
    y: at ? [percent(at.caughtShare)] : [],
    marker: {
      symbol: 'triangle-down',
      size: 13,
      color: palette.result,
      line: { width: 1.3, color: palette.ink },
    },
  };
  const chance = {
    type: 'line',
    layer: 'below',
    x0: 0,
    y0: 0,
    x1: 100,
    y1: 100,
    line: { color: palette.prior, width: 1.3, dash: 'dot' },
  };
  return {
    data: [curve, here] as Data[],
    layout: {
      ...baseLayout(palette),
      dragmode: false,
      margin: { l: 50, r: 12, t: 8, b: 38 },
      xaxis: { ...axisStyle(palette, 'Sound poles replaced, %'), range: [-3, 103], nticks: 6 },
      yaxis: { ...axisStyle(palette, 'Weak poles caught, %'), range: [-3, 103], nticks: 6 },
      shapes: [chance],
    } as unknown as Partial<Layout>,
  };
}
