import {
  chanceBelow,
  type FittedRelation,
  measurementsOf,
  predictCapacity,
  type StrengthDistribution,
} from '../../core/strength/index.ts';
import { predictByLine } from '../../core/strength/relation/predictByLine.ts';
import { CIRCUMFERENCE_LOG_SD, type DrawnPole, drawSeries, normalDraws } from './drawPoles.ts';
import { fitOrNull } from './fitOrNull.ts';
import type { StudyCase } from './listCases.ts';

/** Shares of poles, each by a series of tests of its own. */
export type Coverage = {
  /** Truth inside the 95 % interval, and above the lower 5 % value. */
  readonly inside: number;
  readonly above: number;
};

export type CaseOutcome = {
  readonly study: StudyCase;
  readonly count: number;
  readonly own: Coverage;
  /** The same tests, the error of E ignored. */
  readonly ignored: Coverage;
  /** The line of least squares, and 1.96 or 1.645 residual deviations to its sides, as if both were known. */
  readonly naive: Coverage;
  /** Series from which nothing was predicted, or whose pole is of a species of its own. */
  readonly withheld: number;
};

/** Draws series of tests, predicts the capacity of one further pole from each, and counts how often the truth was held. */
export function studyCase(study: StudyCase, count: number, series: number, seed: number): CaseOutcome {
  const draws = normalDraws(seed);
  const counts = { own: newCount(), ignored: newCount(), naive: newCount() };
  let withheld = 0;
  for (let i = 0; i < series; i++) {
    const { tests, pole } = drawSeries(study, count, draws);
    const own = fitOrNull(tests, study.spec);
    const plain = fitOrNull(tests, { ...study.spec, modulusError: 'ignored' });
    const predicted = own && predictCapacityOf(own, pole);
    const asSure = { ...pole, row: { ...pole.row, modulusLogSd: 0 } };
    const ignored = plain && predictCapacityOf(plain, asSure);
    if (!predicted || !ignored || tests.every(({ species }) => species !== pole.row.species)) {
      withheld++;
      continue;
    }
    const truth = pole.row.groundlineMomentNm;
    counts.own.add(chanceBelow(predicted, truth));
    counts.ignored.add(chanceBelow(ignored, truth));
    counts.naive.add(
      chanceBelow(
        {
          ...ignored,
          normalSd: ignored.scale === 'log' ? plain.relation.residualScale : naiveSd(plain, ignored),
          studentScale: 0,
        },
        truth,
      ),
    );
  }
  return {
    study,
    count,
    own: counts.own.shares(),
    ignored: counts.ignored.shares(),
    naive: counts.naive.shares(),
    withheld: withheld / series,
  };
}

/** On the linear scale capacity is strength times section, and so is its scatter. */
function naiveSd(plain: FittedRelation, capacity: StrengthDistribution): number {
  const mean = plain.tests.reduce((sum, { fitted }) => sum + fitted, 0) / plain.tests.length;
  return (plain.relation.residualScale * capacity.centre) / mean;
}

/** By the line wherever the pole lies: bench/reachStudy.ts looks at what is withheld. */
function predictCapacityOf(
  fit: FittedRelation,
  { row, tapedCircumferenceM }: DrawnPole,
): StrengthDistribution | null {
  const prediction = predictByLine(fit, measurementsOf(row));
  if (prediction.modulusOfRupturePa === null) return null;
  return predictCapacity({
    modulusOfRupturePa: prediction.modulusOfRupturePa,
    leverage: prediction.leverage,
    groundlineCircumferenceM: tapedCircumferenceM,
    circumferenceLogSd: CIRCUMFERENCE_LOG_SD,
  }).moment;
}

function newCount() {
  let [inside, above, all] = [0, 0, 0];
  return {
    add(chance: number) {
      all++;
      if (chance > 0.025 && chance < 0.975) inside++;
      if (chance > 0.05) above++;
    },
    shares: (): Coverage => ({ inside: inside / all, above: above / all }),
  };
}
