import t from '@stdlib/stats-base-dists-t';
import { formatNumber } from '../../formatNumbers.ts';
import { type FittedRelation, PREDICTOR_INFO } from '../../strength/index.ts';
import type { CallResponse } from '../contract.ts';

type Judged = NonNullable<CallResponse<'calibration.tryRelations'>['relations'][number]['judged']>;
type Term = Judged['terms'][number];

const PA_PER_MPA = 1e6;
/** Upper end of a 90 % interval. */
const UPPER_SHARE = 0.95;
const RESPONSE = {
  groundlineStress: 'stress at ground line',
  modulusOfRupture: 'modulus of rupture',
} as const;

/**
 * Tells a relation as a formula about the means of its tests, in the units that people read: far from the tests, where an
 * intercept lies, it says nothing. Its figures have 90 % intervals; levels of groups are told by themselves.
 */
export function tellFormula(fit: FittedRelation): Pick<Judged, 'formula' | 'terms'> {
  const { spec, relation } = fit;
  const isLog = spec.form === 'log-linear';
  const strength = RESPONSE[spec.response];
  const middle = tellMiddle(fit);
  const slopes = fit.range.predictors.map((predictor) => tellSlope(fit, predictor));
  const levels = relation.groups.map(({ factor }) => `${isLog ? '×' : '+'} level of its ${factor}`);
  return {
    formula: [
      `${strength} = ${formatNumber(middle.value)} MPa`,
      ...slopes.map(({ factor }) => factor),
      ...levels,
    ].join(' '),
    terms: [
      { label: `${strength} at the means of the tests`, unit: 'MPa', ...middle },
      ...slopes.map(({ term }) => term),
    ],
  };
}

/** Strength in MPa at the means of the predictors. */
function tellMiddle({ spec, relation, range }: FittedRelation): Omit<Term, 'label' | 'unit'> {
  const weights = relation.terms.map((term, i) =>
    i === 0 ? 1 : (range.predictors.find(({ name }) => name === term)?.mean ?? 0),
  );
  const value = dot(weights, relation.coefficients);
  const variance = dot(
    weights,
    relation.covariance.map((line) => dot(weights, line)),
  );
  return scale(
    intervalOf(relation, value, variance),
    (onScale) => (spec.form === 'log-linear' ? Math.exp(onScale) : onScale) / PA_PER_MPA,
  );
}

function tellSlope(
  { spec, relation }: FittedRelation,
  { name, mean }: FittedRelation['range']['predictors'][number],
): { factor: string; term: Term } {
  const { label, unit, unitInSi, isLogged } = PREDICTOR_INFO[name];
  const at = relation.terms.indexOf(name);
  const raw = intervalOf(relation, relation.coefficients[at]!, relation.covariance[at]![at]!);
  const show = (value: number) => `${formatNumber(value / unitInSi)} ${unit}`.trimEnd();
  const per = unit === '' ? '' : ` per ${unit === 'years' ? 'year' : unit}`;
  if (spec.form === 'linear') {
    const slope = scale(raw, (b) => (b * unitInSi) / PA_PER_MPA);
    const sign = slope.value < 0 ? '−' : '+';
    return {
      factor: `${sign} ${formatNumber(Math.abs(slope.value))} MPa${per} × (${label} − ${show(mean)})`,
      term: { label, unit: `MPa${per}`, ...slope },
    };
  }
  if (isLogged) {
    return {
      factor: `× (${label} / ${show(Math.exp(mean))})^${formatNumber(raw.value)}`,
      term: { label, unit: 'as exponent', ...raw },
    };
  }
  const slope = scale(raw, (b) => b * unitInSi);
  return {
    factor: `× exp(${formatNumber(slope.value)}${per} × (${label} − ${show(mean)}))`,
    term: { label, unit: `in exp()${per}`, ...slope },
  };
}

function intervalOf({ degreesOfFreedom }: FittedRelation['relation'], value: number, variance: number) {
  const half = t.quantile(UPPER_SHARE, degreesOfFreedom) * Math.sqrt(variance);
  return { value, low: value - half, high: value + half };
}

/** @param convert - rising */
function scale(interval: ReturnType<typeof intervalOf>, convert: (value: number) => number) {
  return { value: convert(interval.value), low: convert(interval.low), high: convert(interval.high) };
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + x * b[i]!, 0);
}
