import type { Data, Layout } from 'plotly.js';
import { useMemo } from 'react';
import { ErrorNote, Panel, usePalette, Waiting } from '../../parts/index.ts';
import { axisStyle, baseLayout, Figure } from '../../plots/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import type { Palette } from '../../theme.ts';
import { formatShare } from '../../words/index.ts';
import type { Learning } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { spanOf } from './pictures/index.ts';

type Step = Learning['points'][number];

/** How the error on poles not seen falls with the number of tests, and what more of them would buy. */
export function LearningPanel() {
  const palette = usePalette();
  const { candidates, shown, leftOut } = useCalibration();
  const candidate = candidates.find(({ name }) => name === shown) ?? candidates[0]!;
  const stored = useWindow((s) => s.stored);
  const { value, failure } = useAnswer('calibration.learning', { candidate, leftOut: [...leftOut] }, stored);
  const points = value?.points;
  const figure = useMemo(() => (points ? draw(palette, points) : null), [palette, points]);
  return (
    <Panel
      title="More tests"
      remark={value && describeGain(value)}
      {...(points && {
        table: {
          caption: describe(points),
          columns: ['Tests', 'Error', 'From', 'To', ''],
          rows: points.map(({ tests, errorShare, isForecast }) => [
            String(tests),
            formatShare(errorShare.value),
            formatShare(errorShare.low),
            formatShare(errorShare.high),
            isForecast ? 'forecast' : 'from these tests',
          ]),
        },
      })}
    >
      {failure && <ErrorNote failure={failure} />}
      {!value && !failure && <Waiting what="Fitting to parts of the tests." />}
      {points && figure && <Figure label={describe(points)} data={figure.data} layout={figure.layout} />}
    </Panel>
  );
}

/**
 * What more tests buy, twice: the error that is drawn, and the interval that a new pole gets, which narrows more, since with
 * more tests that error is better known too.
 */
function describeGain({ points, now, withMore }: Learning): string {
  const narrower = Math.round(100 * (1 - withMore.reach / now.reach));
  const forecast = points.find(({ isForecast }) => isForecast);
  const error = forecast ? `error ${formatShare(forecast.errorShare.value)}, ` : '';
  return `${withMore.tests - now.tests} more: ${error}a new pole’s interval ${narrower} % narrower`;
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
      yaxis: { ...axisStyle(palette, 'Error on poles not seen, %'), range: [0, high], nticks: 5 },
    } as unknown as Partial<Layout>,
  };
}
