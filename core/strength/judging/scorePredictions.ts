import { chanceBelow } from '../distribution/chanceBelow.ts';
import { medianOf } from '../distribution/strengthDistribution.ts';
import type { HeldOutTest } from './heldOutTest.ts';

/** How well strengths were foretold that a relation had not seen. Shares are of the measured strength. */
export type PredictionScore = {
  readonly predicted: number;
  /** Tests that the relation could not speak of without their pole. */
  readonly withheld: number;
  /** Root mean square and mean of predicted over measured, less 1: above 0, strength was promised that was not there. */
  readonly rootMeanSquareShare: number;
  readonly biasShare: number;
  /** Share inside its 90 % prediction interval, and share above the lower 5 % value. */
  readonly insideInterval: number;
  readonly aboveLower: number;
};

const TAIL = 0.05;

/** Scores predictions of held-out tests. Figures are NaN where nothing was predicted. */
export function scorePredictions(tests: readonly HeldOutTest[]): PredictionScore {
  const known = tests.flatMap(({ strengthPa, measuredPa }) =>
    strengthPa === null
      ? []
      : [{ share: medianOf(strengthPa) / measuredPa - 1, chance: chanceBelow(strengthPa, measuredPa) }],
  );
  const mean = (value: (test: (typeof known)[number]) => number) =>
    known.reduce((sum, test) => sum + value(test), 0) / known.length;
  return {
    predicted: known.length,
    withheld: tests.length - known.length,
    rootMeanSquareShare: Math.sqrt(mean(({ share }) => share ** 2)),
    biasShare: mean(({ share }) => share),
    insideInterval: mean(({ chance }) => Number(chance > TAIL && chance < 1 - TAIL)),
    aboveLower: mean(({ chance }) => Number(chance > TAIL)),
  };
}
