import type { Data, Layout } from 'plotly.js';
import { useMemo } from 'react';
import { Panel, usePalette } from '../../parts/index.ts';
import { axisStyle, baseLayout, Figure } from '../../plots/index.ts';
import type { Palette } from '../../theme.ts';
import { formatShare } from '../../words/index.ts';
import type { JudgedRelation } from '../calibrationTypes.ts';
import { spanOf } from './drawLinked.ts';

type Step = JudgedRelation['learning'][number];

/** How the error on poles not seen falls with the number of tests, and what more of them would buy. */
export function LearningPanel({ judged }: { judged: JudgedRelation }) {
  const palette = usePalette();
  const { learning } = judged;
  const figure = useMemo(() => draw(palette, learning), [palette, learning]);
  return (
    <Panel
      title="What more tests would buy"
      remark="error on poles not seen; dashed: forecast"
      table={{
        caption: describe(learning),
        columns: ['Tests', 'Error', 'From', 'To', ''],
        rows: learning.map(({ tests, errorShare, isForecast }) => [
          String(tests),
          formatShare(errorShare.value),
          formatShare(errorShare.low),
          formatShare(errorShare.high),
          isForecast ? 'forecast' : 'from these tests',
        ]),
      }}
    >
      {learning.length === 0 ? (
        <p className="nothing">Too few tests to say what more of them would buy.</p>
      ) : (
        <Figure label={describe(learning)} data={figure.data} layout={figure.layout} />
      )}
    </Panel>
  );
}

function describe(learning: readonly Step[]): string {
  const seen = learning.filter(({ isForecast }) => !isForecast).at(-1);
  const forecast = learning.at(-1);
  if (!seen || !forecast) return 'Error on poles not seen over the number of tests: too few tests';
  const then = forecast.isForecast
    ? `; with ${forecast.tests}, ${formatShare(forecast.errorShare.value)} are to be expected`
    : '';
  return `Error on poles not seen over the number of tests: ${formatShare(seen.errorShare.value)} with ${seen.tests}${then}`;
}

function draw(palette: Palette, learning: readonly Step[]): { data: Data[]; layout: Partial<Layout> } {
  const percent = (share: number) => 100 * share;
  const seen = learning.filter(({ isForecast }) => !isForecast);
  const forecast = [...seen.slice(-1), ...learning.filter(({ isForecast }) => isForecast)];
  const line = (steps: readonly Step[], dash: string) => ({
    type: 'scatter',
    mode: 'lines+markers',
    x: steps.map(({ tests }) => tests),
    y: steps.map(({ errorShare }) => percent(errorShare.value)),
    line: { color: palette.ink, width: 1.8, dash },
    marker: { size: 5, color: palette.ink },
  });
  const band = {
    type: 'scatter',
    mode: 'lines',
    x: [...learning.map(({ tests }) => tests), ...[...learning].reverse().map(({ tests }) => tests)],
    y: [
      ...learning.map(({ errorShare }) => percent(errorShare.high)),
      ...[...learning].reverse().map(({ errorShare }) => percent(errorShare.low)),
    ],
    fill: 'toself',
    fillcolor: palette.resultFill,
    line: { width: 0 },
  };
  const high = spanOf(learning.map(({ errorShare }) => percent(errorShare.high)))[1];
  return {
    data: [band, line(seen, 'solid'), ...(forecast.length > 1 ? [line(forecast, 'dash')] : [])] as Data[],
    layout: {
      ...baseLayout(palette),
      dragmode: false,
      margin: { l: 50, r: 12, t: 8, b: 34 },
      xaxis: {
        ...axisStyle(palette, 'Tests'),
        range: [...spanOf(learning.map(({ tests }) => tests))],
        nticks: 6,
      },
      yaxis: { ...axisStyle(palette, 'Error, %'), range: [0, high], nticks: 5 },
    } as unknown as Partial<Layout>,
  };
}
