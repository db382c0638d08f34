import type { RelationBasis } from './fitRelation.ts';
import { PREDICTOR_INFO } from './predictors.ts';

const ESTIMATOR = {
  ordinary: 'least squares',
  weighted: 'weighted least squares',
  robust: 'Huber’s robust fit, in which tests far off the rest count less',
} as const;
const GROUPING = { fixed: 'a level for each', pooled: 'levels drawn towards their mean' } as const;
const PA_PER_MPA = 1e6;

/** Says in a few sentences how a relation predicts, what it was fitted to and how far poles scatter about it. */
export function describeRelation({ spec, relation, range }: RelationBasis): string {
  const predictors = spec.predictors.map((name) => PREDICTOR_INFO[name].label);
  const of =
    spec.response === 'groundlineStress'
      ? 'Bending stress at ground line at the load that broke the pole'
      : 'Bending stress where the pole broke';
  const from = predictors.length === 0 ? 'as a mean of the tests' : `from ${predictors.join(', ')}`;
  const form = spec.form === 'log-linear' ? 'log-linear' : 'linear';
  const groups = relation.groups.map(
    ({ factor, treatedAs, levels }) => `${factor}: ${GROUPING[treatedAs]} of ${levels.length}`,
  );
  const scatter =
    spec.form === 'log-linear'
      ? `${(100 * Math.expm1(relation.residualScale)).toFixed(0)} %`
      : `${(relation.residualScale / PA_PER_MPA).toFixed(1)} MPa`;
  return [
    `${of}, ${from}: a ${form} relation by ${ESTIMATOR[spec.estimator]}, to tests of ${range.poles} poles.`,
    ...(groups.length > 0 ? [`Groups: ${groups.join('; ')}.`] : []),
    spec.modulusError === 'acknowledged'
      ? 'The error of the modulus is acknowledged, in the tests and of the pole at hand.'
      : 'The error of the modulus in the tests is not corrected for; of the pole at hand, what is beyond theirs widens the interval.',
    `One pole scatters about it by ${scatter} (standard deviation, ${relation.degreesOfFreedom.toFixed(0)} degrees of freedom).`,
    ...relation.notes,
  ].join(' ');
}
