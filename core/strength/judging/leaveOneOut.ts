import { FEWEST_DEGREES } from '../relation/fitGrouped.ts';
import type { FittedRelation, FittedTest } from '../relation/fitRelation.ts';
import { readStrengthPa } from '../relation/prepareRows.ts';
import type { HeldOutTest } from './heldOutTest.ts';
import { predictHeldOut } from './predictHeldOut.ts';

/** A test whose leverage comes this near to 1 decides a coefficient alone: without it nothing can be predicted of it. */
const SOLE_LEVERAGE = 1 - 1e-9;

/**
 * Predicts each test by the relation without its pole. Where the fit is plain least squares and each pole was tested once,
 * in closed form: y - e / (1 - h), with the deviation of the others, s_(i)^2 = (RSS - e^2 / (1 - h)) / (nu - 1) (Cook and Weisberg
 * 1982, Residuals and Influence in Regression, 2.2, from memory); else by fitting again for each pole.
 */
export function leaveOneOut(fit: FittedRelation): HeldOutTest[] {
  if (hasClosedForm(fit)) return fit.tests.map((test, i) => predictInClosedForm(fit, test, i));
  const poles = [...new Set(fit.rows.map(({ poleId }) => poleId))];
  return predictHeldOut(
    fit.rows,
    fit.spec,
    fit.rows.map(({ poleId }) => poles.indexOf(poleId)),
  );
}

function hasClosedForm({ spec, relation, rows }: FittedRelation): boolean {
  return (
    spec.estimator === 'ordinary' &&
    relation.modulusError === null &&
    relation.groups.every(({ treatedAs }) => treatedAs === 'fixed') &&
    // without one test there must be a degree of freedom left to tell the scatter, as a fit would ask for
    relation.degreesOfFreedom > FEWEST_DEGREES &&
    new Set(rows.map(({ poleId }) => poleId)).size === rows.length
  );
}

function predictInClosedForm(
  { spec, relation, rows }: FittedRelation,
  { residual, leverage, response }: FittedTest,
  i: number,
): HeldOutTest {
  const row = rows[i]!;
  const described = { id: row.id, poleId: row.poleId, measuredPa: readStrengthPa(row, spec.response) };
  if (leverage > SOLE_LEVERAGE) {
    return {
      ...described,
      strengthPa: null,
      withheldBecause: 'This test decides a coefficient alone: without it nothing can be predicted of it.',
    };
  }
  const squares = relation.residualScale ** 2 * relation.degreesOfFreedom;
  const degreesOfFreedom = relation.degreesOfFreedom - 1;
  const scale = Math.sqrt(Math.max(0, squares - residual ** 2 / (1 - leverage)) / degreesOfFreedom);
  return {
    ...described,
    strengthPa: {
      scale: spec.form === 'log-linear' ? 'log' : 'linear',
      centre: response - residual / (1 - leverage),
      normalSd: 0,
      studentScale: scale * Math.sqrt(1 + leverage / (1 - leverage)),
      degreesOfFreedom,
    },
    withheldBecause: null,
  };
}
