import { InputError } from '../../errors.ts';
import type { BreakTestRow } from './breakTestRow.ts';
import {
  measurementsOf,
  modulusErrorVariance,
  type PoleMeasurements,
  PREDICTOR_INFO,
  readPredictor,
  stiffnessPredictorOf,
} from './predictors.ts';
import { FACTORS, type FactorName, type RelationSpec } from './relationSpec.ts';

/** A test on the scale of the fit. */
export type PreparedRow = {
  readonly row: BreakTestRow;
  readonly response: number;
  /** In the order of the relation's predictors. */
  readonly values: readonly number[];
  /** Error variance of the predictor that carries the modulus; 0 where its error is ignored. */
  readonly errorVariance: number;
  /** Over the mean of all; 1 where the fit does not weigh. */
  readonly weight: number;
  /** Of the factors that the relation groups by. */
  readonly levels: Readonly<Partial<Record<FactorName, string>>>;
};

/** A clear specimen has none of a pole's knots and checks: among poles it would make them too strong (docs/break-tests.md). */
const SPECIMEN_AMONG_POLES =
  'It is of a specimen cut from a pole, which is stronger than poles; the others broke whole poles.';

/** A test that the relation cannot use. */
export type LeftOutRow = { readonly id: string; readonly reason: string };

/**
 * Brings break tests to the scale of a relation, and lists those that lack what it needs.
 * @throws InputError `relation.spec` where the choices contradict each other
 */
export function prepareRows(
  rows: readonly BreakTestRow[],
  spec: RelationSpec,
): { used: PreparedRow[]; leftOut: LeftOutRow[] } {
  refuseContradictions(spec);
  const used: PreparedRow[] = [];
  const leftOut: LeftOutRow[] = [];
  const hasPoles = rows.some(({ piece }) => piece === 'pole');
  for (const row of rows) {
    const prepared = hasPoles && row.piece === 'specimen' ? SPECIMEN_AMONG_POLES : prepareRow(row, spec);
    if (typeof prepared === 'string') leftOut.push({ id: row.id, reason: prepared });
    else used.push(prepared);
  }
  return { used: spec.estimator === 'weighted' ? scaleWeights(used) : used, leftOut };
}

/**
 * Weights over their mean: only their ratios tell anything, and the scatter of a fit, which a prediction takes over, becomes that of
 * a test of mean weight. A test without one counts as the mean.
 */
function scaleWeights(rows: readonly PreparedRow[]): PreparedRow[] {
  const stated = rows.flatMap(({ row }) => row.weight ?? []);
  const mean = stated.reduce((sum, weight) => sum + weight, 0) / stated.length;
  return rows.map((prepared) => ({
    ...prepared,
    weight: prepared.row.weight === null ? 1 : prepared.row.weight / mean,
  }));
}

function prepareRow(row: BreakTestRow, spec: RelationSpec): PreparedRow | string {
  const pole = measurementsOf(row);
  const values: number[] = [];
  for (const name of spec.predictors) {
    const value = readPredictor(name, spec.form, pole);
    if (value === null) return `No ${PREDICTOR_INFO[name].label} was measured.`;
    values.push(value);
  }
  const levels: Partial<Record<FactorName, string>> = {};
  for (const factor of groupedFactorsOf(spec)) {
    const level = levelOf(factor, pole);
    if (level === null) return `No ${factor} is stated.`;
    levels[factor] = level;
  }
  let errorVariance = 0;
  const stiffness = spec.modulusError === 'acknowledged' ? stiffnessPredictorOf(spec) : null;
  if (stiffness !== null) {
    if (row.modulusLogSd === null)
      return 'The modulus has no interval of its own, and its error is to be acknowledged.';
    errorVariance = modulusErrorVariance(
      spec.form,
      values[spec.predictors.indexOf(stiffness)]!,
      pole.modulusPa!,
    );
  }
  return {
    row,
    response: readResponse(row, spec),
    values,
    errorVariance,
    weight: 1,
    levels,
  };
}

/** Strength of a broken pole on the scale of the fit. */
function readResponse(row: BreakTestRow, { response, form }: RelationSpec): number {
  const strengthPa = readStrengthPa(row, response);
  return form === 'log-linear' ? Math.log(strengthPa) : strengthPa;
}

/** Strength of a broken pole that a relation predicts, in Pa: at ground line by 32 pi^2 M / C^3, or where it broke. */
export function readStrengthPa(row: BreakTestRow, response: RelationSpec['response']): number {
  if (response === 'modulusOfRupture') return row.modulusOfRupturePa;
  return (32 * Math.PI ** 2 * row.groundlineMomentNm) / row.circumferenceM ** 3;
}

/** Factors that a relation groups by, in a fixed order. */
export function groupedFactorsOf(spec: RelationSpec): FactorName[] {
  return FACTORS.filter((factor) => spec[factor] !== 'none');
}

/** The group of a pole; null where it is not stated. Capitals and spaces round a treatment do not count. */
export function levelOf(factor: FactorName, pole: Pick<PoleMeasurements, FactorName>): string | null {
  return pole[factor]?.trim().toLowerCase() || null;
}

function refuseContradictions(spec: RelationSpec): void {
  const refuse = (message: string, hint: string): never => {
    throw new InputError('relation.spec', message, hint);
  };
  if (new Set(spec.predictors).size < spec.predictors.length) {
    refuse(`Predictors are chosen twice: ${spec.predictors.join(', ')}.`, 'Choose each once.');
  }
  if (spec.modulusError === 'acknowledged') {
    const carriers = spec.predictors.filter((name) => name === 'modulus' || name === 'specificModulus');
    if (carriers.length !== 1) {
      refuse(
        `The error of the modulus is to be acknowledged, and ${carriers.length === 0 ? 'no predictor carries it' : 'two predictors carry it'}.`,
        'Choose either the modulus or the modulus over density, or ignore the error.',
      );
    }
  }
  if (spec.estimator === 'robust' && groupedFactorsOf(spec).some((factor) => spec[factor] === 'pooled')) {
    refuse('A robust fit does not go with pooled groups.', 'Take fixed groups, or ordinary least squares.');
  }
}
