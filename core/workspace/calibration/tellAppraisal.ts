import { formatDifference, formatNumber } from '../../formatNumbers.ts';
import {
  type Appraisal,
  appraiseRelation,
  type CalibrationDocument,
  type FittedRelation,
  fitRelation,
  handbookCalibration,
  type Weakness,
  weaknessesOf,
} from '../../strength/index.ts';
import type { CallResponse } from '../contract.ts';
import { describeSpans } from './describeRange.ts';

type Told = CallResponse<'calibration.appraise'>;

/** What would be published with a relation that is only fitted yet. */
export function tellFitted(fit: FittedRelation, armsNotShortened: number): Told {
  const appraisal = appraiseRelation(fit, armsNotShortened);
  return tell(fit, appraisal, appraisal.weaknesses);
}

/** What is put to use with a kept calibration: its tests are in it, so that it is judged anew. */
export function tellKept(document: CalibrationDocument): Told {
  const fit = fitRelation(document.rows, document.spec);
  const told = weaknessesOf(document);
  const ids = new Set(told.map(({ id }) => id));
  // that a document says nothing of arms is no word that none had shortened: whoever published it may not have known
  const appraisal = appraiseRelation(fit, null);
  // a document of an earlier program tells none itself
  return tell(fit, appraisal, [...told, ...appraisal.weaknesses.filter(({ id }) => !ids.has(id))]);
}

/** The handbook's calibration has no tests to judge. */
export function tellHandbook(): Told {
  return { lines: [{ name: 'Tests', text: handbookCalibration.describe() }], weaknesses: [] };
}

function tell(
  fit: FittedRelation,
  { tests, poles, species, predictive, score, armsNotShortened }: Appraisal,
  weaknesses: readonly Weakness[],
): Told {
  const predictors = new Set<string>(fit.spec.predictors);
  const spans = describeSpans(fit)
    .filter(({ name }) => predictors.has(name))
    .map(({ label, min, max, unit }) =>
      `${label} ${formatNumber(min)} to ${formatNumber(max)} ${unit}`.trimEnd(),
    );
  const arms =
    armsNotShortened === null
      ? []
      : [
          {
            name: 'Arms',
            text:
              armsNotShortened === 0
                ? 'As far as is on record, no test was taken with an arm that had shortened.'
                : `${armsNotShortened} of ${tests} tests with the whole arm, though it shortens while a pole bends: told too strong.`,
          },
        ];
  return {
    lines: [
      { name: 'Tests', text: tellTests(tests, poles) },
      { name: 'Species', text: species.map(({ level, poles: own }) => `${level} ${own}`).join(', ') },
      ...(spans.length > 0 ? [{ name: 'From', text: spans.join('; ') }] : []),
      {
        name: 'Foretells',
        text:
          `${percent(predictive.value)} of the scatter of strengths of poles that it did not see (90 % interval ${percent(predictive.low)} to ` +
          `${percent(predictive.high)}); 0 % is no better than the mean of the tests`,
      },
      {
        name: 'Error',
        text: `${percent(score.rootMeanSquareShare)} on a pole that it did not see, by ${formatDifference(score.biasShare, 'not known')} on average`,
      },
      ...arms,
    ],
    weaknesses: [...weaknesses],
  };
}

/** Tests of one pole tell less than as many poles: poles come first where they are fewer. */
function tellTests(tests: number, poles: number): string {
  const [first, second] = [count(tests, 'break test'), count(poles, 'pole')];
  return poles < tests ? `${second}, in ${first}` : `${first} of ${second}`;
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? '' : 's'}`;
}

function percent(share: number): string {
  return Number.isFinite(share) ? `${Math.round(100 * share)} %`.replace('-', '−') : 'not known';
}
