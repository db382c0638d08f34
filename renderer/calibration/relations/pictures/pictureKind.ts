import type { Data } from 'plotly.js';
import type { DataTableContent } from '../../../parts/index.ts';
import type { Palette } from '../../../theme.ts';
import type { JudgedRelation, JudgedTest } from '../../calibrationTypes.ts';
import type { LinkedPoint } from '../../linked/pointPlaces.ts';
import { drawLinked, type LinkedPicture } from './drawLinked.ts';

/** What the pictures need of a test beside its judgement. */
export type TestWords = { name: string; symbol: string };

/** What stands behind the points: lines of limits, intervals, and what they need in sight. */
type Ground = {
  below?: readonly Data[];
  shapes?: readonly object[];
  alsoX?: readonly number[];
  alsoY?: readonly number[];
};

/** A picture of all tests as points; tests that it has no figures of are left out. */
export type PictureKind = {
  title: string;
  /** What to look for, in a few words. */
  remark: string;
  xTitle: string;
  yTitle: string;
  /** What a screen reader calls the picture: its subject and its main reading. */
  label: (judged: JudgedRelation) => string;
  columns: readonly string[];
  cells: (test: JudgedTest) => string[];
  place: (test: JudgedTest) => { x: number; y: number } | null;
  words: (test: JudgedTest) => string;
  ground: (palette: Palette, points: readonly LinkedPoint[], judged: JudgedRelation) => Ground;
};

/** The points of a picture, and the picture with what is chosen. */
export function drawPicture(
  kind: PictureKind,
  palette: Palette,
  judged: JudgedRelation,
  wordsOf: (testId: number) => TestWords,
  chosen: readonly number[],
): { points: LinkedPoint[]; picture: LinkedPicture } {
  const points = judged.tests.flatMap((test) => {
    const place = kind.place(test);
    if (!place) return [];
    const { name } = wordsOf(test.testId);
    return { testId: test.testId, ...place, words: `${name}: ${kind.words(test)}` };
  });
  const picture = drawLinked(palette, {
    points,
    symbols: points.map(({ testId }) => wordsOf(testId).symbol),
    chosen,
    xTitle: kind.xTitle,
    yTitle: kind.yTitle,
    ...kind.ground(palette, points, judged),
  });
  return { points, picture };
}

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
