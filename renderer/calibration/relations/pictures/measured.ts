import type { Data } from 'plotly.js';
import { ruleLine, spanOf } from './drawLinked.ts';
import { megapascals, showMpa, showShare } from './figures.ts';
import type { PictureKind } from './pictureKind.ts';

/** Intervals are drawn for so many tests at most; more would be a grey field. */
const MOST_INTERVALS = 150;

export const measured: PictureKind = {
  title: 'Measured, predicted',
  remark: 'bars: 90 %',
  xTitle: 'Predicted without the pole itself, MPa',
  yTitle: 'Measured, MPa',
  label: ({ leaveOneOut, tests }) =>
    `Measured against predicted strength of ${tests.length} break tests, each predicted without its own pole: typical error ${showShare(leaveOneOut.rootMeanSquareShare)}`,
  columns: ['Test', 'Measured, MPa', 'Predicted, MPa', '90 % interval, MPa'],
  cells: ({ measuredPa, predictedPa, lowPa, highPa }) => [
    showMpa(measuredPa),
    showMpa(predictedPa),
    lowPa === null ? 'none' : `${showMpa(lowPa)} to ${showMpa(highPa)}`,
  ],
  place: ({ measuredPa, predictedPa }) =>
    predictedPa === null ? null : { x: megapascals(predictedPa), y: megapascals(measuredPa) },
  words: ({ measuredPa, predictedPa }) =>
    `measured ${showMpa(measuredPa)} MPa, predicted ${showMpa(predictedPa)} MPa`,
  ground(palette, points, { tests }) {
    const bars = tests.length > MOST_INTERVALS ? [] : tests;
    const ends = bars.flatMap(({ predictedPa, lowPa, highPa }) =>
      predictedPa === null || lowPa === null || highPa === null
        ? []
        : [{ x: megapascals(predictedPa), low: megapascals(lowPa), high: megapascals(highPa) }],
    );
    const [low, high] = spanOf(points.map(({ x }) => x));
    return {
      below: [
        {
          type: 'scatter',
          mode: 'lines',
          x: ends.flatMap(({ x }) => [x, x, null]),
          y: ends.flatMap((end) => [end.low, end.high, null]),
          line: { color: palette.rule, width: 1 },
        },
      ] as Data[],
      alsoY: ends.flatMap((end) => [end.low, end.high]),
      shapes: [ruleLine(palette, [low, low], [high, high])],
    };
  },
};
