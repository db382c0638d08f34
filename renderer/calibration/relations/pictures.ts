import type { Data } from 'plotly.js';
import type { DataTableContent } from '../../parts/index.ts';
import type { Palette } from '../../theme.ts';
import { formatShare, formatSignificant } from '../../words/index.ts';
import type { JudgedRelation, JudgedTest } from '../calibrationTypes.ts';
import type { LinkedPoint } from '../linked/pointPlaces.ts';
import { drawLinked, type LinkedPicture, ruleLine, spanOf } from './drawLinked.ts';

const PA_PER_MPA = 1e6;
/** Intervals are drawn for so many tests at most; more would be a grey field. */
const MOST_INTERVALS = 150;
/** Normal residuals lie within two standard deviations 19 times of 20. */
const USUAL_REACH = 2;

/** What the pictures need of a test beside its judgement. */
export type TestWords = { name: string; symbol: string };

type Draw = (
  palette: Palette,
  judged: JudgedRelation,
  wordsOf: (testId: number) => TestWords,
  chosen: readonly number[],
) => { picture: LinkedPicture; points: LinkedPoint[] };

export type PictureKind = {
  id: string;
  title: string;
  /** What it shows, in plain words. */
  remark: string;
  /** What a screen reader calls the picture. */
  label: (judged: JudgedRelation) => string;
  columns: readonly string[];
  cells: (test: JudgedTest) => string[];
  draw: Draw;
};

const megapascals = (pa: number) => pa / PA_PER_MPA;
const showMpa = (pa: number) => formatSignificant(megapascals(pa));

function pointsOf(
  judged: JudgedRelation,
  wordsOf: (testId: number) => TestWords,
  place: (test: JudgedTest) => { x: number; y: number },
  words: (test: JudgedTest) => string,
): { points: LinkedPoint[]; symbols: string[] } {
  const points = judged.tests.map((test) => ({
    testId: test.testId,
    ...place(test),
    words: `${wordsOf(test.testId).name}: ${words(test)}`,
  }));
  return { points, symbols: points.map(({ testId }) => wordsOf(testId).symbol) };
}

const predictedAgainstMeasured: PictureKind = {
  id: 'measured',
  title: 'Measured against predicted',
  remark: 'each pole predicted without itself; bars: 90 % interval',
  label: ({ leaveOneOut, tests }) =>
    `Measured against predicted strength of ${tests.length} break tests, each predicted without its own pole: typical error ${formatShare(leaveOneOut.rootMeanSquareShare)}`,
  columns: ['Test', 'Measured, MPa', 'Predicted, MPa', '90 % interval, MPa'],
  cells: (test) => [
    showMpa(test.measuredPa),
    showMpa(test.predictedPa),
    `${showMpa(test.lowPa)} to ${showMpa(test.highPa)}`,
  ],
  draw(palette, judged, wordsOf, chosen) {
    const { points, symbols } = pointsOf(
      judged,
      wordsOf,
      (test) => ({ x: megapascals(test.predictedPa), y: megapascals(test.measuredPa) }),
      (test) => `measured ${showMpa(test.measuredPa)} MPa, predicted ${showMpa(test.predictedPa)} MPa`,
    );
    const intervals = judged.tests.length > MOST_INTERVALS ? [] : judged.tests;
    const bars = {
      type: 'scatter',
      mode: 'lines',
      x: intervals.flatMap((test) => [megapascals(test.predictedPa), megapascals(test.predictedPa), null]),
      y: intervals.flatMap((test) => [megapascals(test.lowPa), megapascals(test.highPa), null]),
      line: { color: palette.rule, width: 1 },
    };
    const [low, high] = spanOf(points.map(({ x }) => x));
    return {
      points,
      picture: drawLinked(palette, {
        points,
        symbols,
        chosen,
        xTitle: 'Predicted, MPa',
        yTitle: 'Measured, MPa',
        below: [bars] as Data[],
        shapes: [ruleLine(palette, [low, low], [high, high])],
      }),
    };
  },
};

const residuals: PictureKind = {
  id: 'residuals',
  title: 'Residuals',
  remark: 'over their own spread; most lie within ±2',
  label: ({ tests }) =>
    `Residuals of ${tests.length} break tests over fitted strength: ${countBeyond(tests)} beyond 2 standard deviations`,
  columns: ['Test', 'Fitted, MPa', 'Residual, standard deviations'],
  cells: (test) => [showMpa(test.fittedPa), formatSignificant(test.residual)],
  draw(palette, judged, wordsOf, chosen) {
    const { points, symbols } = pointsOf(
      judged,
      wordsOf,
      (test) => ({ x: megapascals(test.fittedPa), y: test.residual }),
      (test) => `residual ${formatSignificant(test.residual)} at ${showMpa(test.fittedPa)} MPa`,
    );
    const [low, high] = spanOf(points.map(({ x }) => x));
    return {
      points,
      picture: drawLinked(palette, {
        points,
        symbols,
        chosen,
        xTitle: 'Fitted, MPa',
        yTitle: 'Residual',
        alsoY: [-USUAL_REACH, USUAL_REACH],
        shapes: [
          ruleLine(palette, [low, 0], [high, 0], 'solid'),
          ruleLine(palette, [low, USUAL_REACH], [high, USUAL_REACH]),
          ruleLine(palette, [low, -USUAL_REACH], [high, -USUAL_REACH]),
        ],
      }),
    };
  },
};

const normalQuantiles: PictureKind = {
  id: 'quantiles',
  title: 'Normal quantiles',
  remark: 'on the line where residuals are normal',
  label: ({ tests }) =>
    `Residuals of ${tests.length} break tests against the quantiles of a normal distribution`,
  columns: ['Test', 'Normal quantile', 'Residual, standard deviations'],
  cells: (test) => [formatSignificant(test.normalQuantile), formatSignificant(test.residual)],
  draw(palette, judged, wordsOf, chosen) {
    const { points, symbols } = pointsOf(
      judged,
      wordsOf,
      (test) => ({ x: test.normalQuantile, y: test.residual }),
      (test) =>
        `residual ${formatSignificant(test.residual)}, normal quantile ${formatSignificant(test.normalQuantile)}`,
    );
    const [low, high] = spanOf(points.map(({ x }) => x));
    return {
      points,
      picture: drawLinked(palette, {
        points,
        symbols,
        chosen,
        xTitle: 'Normal quantile',
        yTitle: 'Residual',
        shapes: [ruleLine(palette, [low, low], [high, high])],
      }),
    };
  },
};

const influence: PictureKind = {
  id: 'influence',
  title: 'Influence of single tests',
  remark: 'beyond a line a test moves the relation by itself',
  label: ({ tests, influenceLimits }) =>
    `Leverage and Cook's distance of ${tests.length} break tests: ${tests.filter((test) => test.cooksDistance > influenceLimits.cooksDistance).length} move the relation by themselves`,
  columns: [
    'Test',
    'Leverage: how unusual its predictors are',
    "Cook's distance: how far it moves the relation",
  ],
  cells: (test) => [formatSignificant(test.leverage), formatSignificant(test.cooksDistance)],
  draw(palette, judged, wordsOf, chosen) {
    const { points, symbols } = pointsOf(
      judged,
      wordsOf,
      (test) => ({ x: test.leverage, y: test.cooksDistance }),
      (test) =>
        `leverage ${formatSignificant(test.leverage)}, Cook's distance ${formatSignificant(test.cooksDistance)}`,
    );
    const { leverage, cooksDistance } = judged.influenceLimits;
    const [, right] = spanOf([...points.map(({ x }) => x), leverage]);
    const [, top] = spanOf([...points.map(({ y }) => y), cooksDistance]);
    return {
      points,
      picture: drawLinked(palette, {
        points,
        symbols,
        chosen,
        xTitle: 'Leverage',
        yTitle: "Cook's distance",
        alsoX: [0, leverage],
        alsoY: [0, cooksDistance],
        shapes: [
          ruleLine(palette, [leverage, 0], [leverage, top]),
          ruleLine(palette, [0, cooksDistance], [right, cooksDistance]),
        ],
      }),
    };
  },
};

const range: PictureKind = {
  id: 'range',
  title: 'Range of the tests',
  remark: 'how far from the middle of the tests each lies',
  label: ({ tests, distanceLimit }) =>
    `Distance of ${tests.length} break tests from their middle over all predictors${distanceLimit === null ? '' : `; beyond ${formatSignificant(distanceLimit)} a pole is unlike them`}`,
  columns: ['Test', 'Distance from the middle', 'Error where left out'],
  cells: (test) => [formatSignificant(test.distance), formatError(test)],
  draw(palette, judged, wordsOf, chosen) {
    const { points, symbols } = pointsOf(
      judged,
      wordsOf,
      (test) => ({ x: test.distance, y: 100 * errorOf(test) }),
      (test) => `distance ${formatSignificant(test.distance)}, error ${formatError(test)}`,
    );
    const limit = judged.distanceLimit;
    const [, right] = spanOf([...points.map(({ x }) => x), limit ?? 1]);
    const [bottom, top] = spanOf(points.map(({ y }) => y));
    return {
      points,
      picture: drawLinked(palette, {
        points,
        symbols,
        chosen,
        xTitle: 'Distance from the middle of the tests',
        yTitle: 'Error where left out, %',
        alsoX: [0, limit ?? 1],
        shapes: [
          ruleLine(palette, [0, 0], [right, 0], 'solid'),
          ...(limit === null ? [] : [ruleLine(palette, [limit, bottom], [limit, top])]),
        ],
      }),
    };
  },
};

/** The linked pictures, in the order of the grid; the learning curve stands last, on its own. */
export const PICTURES: readonly PictureKind[] = [
  predictedAgainstMeasured,
  residuals,
  normalQuantiles,
  influence,
  range,
];

/** The data of a picture for its table. */
export function tableOf(
  kind: PictureKind,
  judged: JudgedRelation,
  wordsOf: (testId: number) => TestWords,
): DataTableContent {
  return {
    caption: kind.label(judged),
    columns: kind.columns,
    rows: judged.tests.map((test) => [wordsOf(test.testId).name, ...kind.cells(test)]),
  };
}

/** Predicted against measured, as a share of measured. */
export function errorOf({ predictedPa, measuredPa }: JudgedTest): number {
  return predictedPa / measuredPa - 1;
}

function formatError(test: JudgedTest): string {
  const share = Math.round(100 * errorOf(test));
  return `${share > 0 ? '+' : ''}${share} %`;
}

function countBeyond(tests: readonly JudgedTest[]): number {
  return tests.filter(({ residual }) => Math.abs(residual) > USUAL_REACH).length;
}
