import type { BreakTestRow } from '../relation/breakTestRow.ts';
import type { FittedRelation } from '../relation/fitRelation.ts';
import { shuffle } from './foldPoles.ts';
import { forecastTests, spreadOfDeviation, type TestForecast } from './forecastTests.ts';
import { leaveOneOut } from './leaveOneOut.ts';
import { fitOthers } from './predictHeldOut.ts';
import { scorePredictions } from './scorePredictions.ts';

/** Error of a relation fitted to so many of the tests. */
export type LearningPoint = {
  readonly tests: number;
  /** Root mean square of predicted over measured strength, less 1; 90 % interval. */
  readonly errorShare: { readonly value: number; readonly low: number; readonly high: number };
  /** Beyond the tests that there are, by theory. */
  readonly isForecast: boolean;
};

export type LearningCurve = {
  readonly points: readonly LearningPoint[];
  /** The relation now, and with so many more tests. */
  readonly now: TestForecast;
  readonly then: TestForecast;
};

export type LearningOptions = {
  /** Tests that the forecast adds. @default 20 */
  readonly more?: number;
  /** Draws at each size. @default 20 */
  readonly draws?: number;
  /** @default 1 */
  readonly seed?: number;
};

/** Sizes on the way to all tests, as shares of the poles; and the least share of poles left to check on. */
const SHARES = [0.25, 0.4, 0.55, 0.7, 0.85];
const FEWEST_PER_TERM = 2;
const MOST_DIGITS_LEVEL = 0.9;

/**
 * Tells how the error of a relation falls with the number of tests: fits to poles drawn at random, checked on those left out; all tests,
 * checked by leaving out a pole at a time; and beyond them by the theory of {@link forecastTests}, from the error now, with the interval of a
 * deviation known from the degrees of freedom at hand. It supposes that further poles are like these: tests of another species
 * buy something else.
 */
export function learningCurve(fit: FittedRelation, options: LearningOptions = {}): LearningCurve {
  const { more = 20, draws = 20, seed = 1 } = options;
  const terms = fit.tests.reduce((sum, { leverage }) => sum + leverage, 0);
  const poles = [...new Set(fit.rows.map(({ poleId }) => poleId))].sort();
  const n = fit.rows.length;
  const sizes = SHARES.map((share) => Math.round(share * poles.length)).filter(
    (size, i, all) => size >= FEWEST_PER_TERM * (terms + 1) && size !== all[i - 1],
  );
  const measured = sizes.flatMap((size) => {
    const errors = Array.from({ length: draws }, (_, draw) =>
      errorFrom(fit, new Set(shuffle(poles, seed + draw).slice(0, size))),
    ).filter((error) => !Number.isNaN(error));
    if (errors.length < draws / 2) return [];
    errors.sort((a, b) => a - b);
    const at = (share: number) => errors[Math.min(errors.length - 1, Math.floor(share * errors.length))]!;
    return [
      {
        tests: Math.round((size * n) / poles.length),
        errorShare: { value: at(0.5), low: at(0.05), high: at(0.95) },
        isForecast: false,
      },
    ];
  });
  const whole = scorePredictions(leaveOneOut(fit)).rootMeanSquareShare;
  const spread = spreadOfDeviation(fit.relation.degreesOfFreedom, MOST_DIGITS_LEVEL);
  const [now, then] = [n, n + more].map((tests) => forecastTests(tests, terms - 1)) as [
    TestForecast,
    TestForecast,
  ];
  const around = (value: number) => ({ value, low: value * spread.low, high: value * spread.high });
  return {
    points: [
      ...measured,
      { tests: n, errorShare: around(whole), isForecast: false },
      { tests: n + more, errorShare: around((whole * then.error) / now.error), isForecast: true },
    ],
    now,
    then,
  };
}

function errorFrom({ rows, spec }: FittedRelation, drawn: ReadonlySet<string>): number {
  const isDrawn = ({ poleId }: BreakTestRow) => drawn.has(poleId);
  const predict = fitOthers(rows.filter(isDrawn), spec);
  const rest = rows.filter((row) => !isDrawn(row));
  return scorePredictions(rest.map(predict)).rootMeanSquareShare;
}
