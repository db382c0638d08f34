import { FitError } from '../../errors.ts';
import type { BreakTestRow } from './breakTestRow.ts';
import { calibrateModulus } from './calibrateModulus.ts';
import type { RelationFit, ValidityRange } from './calibrationDocument.ts';
import { describeRange } from './describeRange.ts';
import { FEWEST_DEGREES, fitGrouped, type GroupedFit } from './fitGrouped.ts';
import { median } from './median.ts';
import { stiffnessPredictorOf } from './predictors.ts';
import { type LeftOutRow, type PreparedRow, prepareRows } from './prepareRows.ts';
import type { RelationSpec } from './relationSpec.ts';

/** A relation fitted to break tests, with all that is needed to predict by it and to judge it. */
export type FittedRelation = {
  readonly spec: RelationSpec;
  readonly relation: RelationFit;
  readonly range: ValidityRange;
  readonly rows: readonly BreakTestRow[];
  readonly leftOut: readonly LeftOutRow[];
  /** One entry a row, on the scale of the fit. */
  readonly tests: readonly FittedTest[];
};

/** What of a fitted relation a prediction needs. */
export type RelationBasis = Pick<FittedRelation, 'spec' | 'relation' | 'range' | 'rows'>;

export type FittedTest = {
  readonly id: string;
  readonly response: number;
  readonly fitted: number;
  readonly residual: number;
  readonly leverage: number;
  readonly weight: number;
  /** Predictors as the fit saw them, on its scale. */
  readonly values: readonly number[];
  /** From 0 to 1: what a robust fit left of the test. */
  readonly robustWeight: number;
};

/** From fewer tests a robust scale is too unsure: 95 % intervals hold 93 % at 8 tests (docs/studies/strength.md). */
const FEWEST_ROBUST = 15;
/** A test with less robust weight than this is named (ours). */
const DOUBTED_WEIGHT = 0.5;

/**
 * Fits a relation to break tests. Tests that lack what it needs are left out, and listed.
 * @throws InputError `relation.spec` for choices that contradict each other; FitError `relation.tests` where too few tests are
 * left, `relation.collinear` where predictors cannot be told apart, `relation.modulusError` where stated errors explain the scatter of moduli
 */
export function fitRelation(rows: readonly BreakTestRow[], spec: RelationSpec): FittedRelation {
  const { used, leftOut } = prepareRows(rows, spec);
  refuseTooFew(used, leftOut, spec);
  const at = spec.modulusError === 'acknowledged' ? spec.predictors.indexOf(stiffnessPredictorOf(spec)!) : -1;
  const { values, model } =
    at < 0 ? { values: used.map((row) => row.values), model: null } : calibrateModulus(used, spec, at);
  const fit = fitGrouped({
    rows: used,
    response: used.map(({ response }) => response),
    values,
    names: spec.predictors,
    spec,
    estimator: spec.estimator,
  });
  refuseExact(used, fit);
  return {
    spec,
    relation: {
      terms: [...fit.terms],
      coefficients: [...fit.coefficients],
      covariance: fit.covariance.map((line) => [...line]),
      residualScale: fit.residualScale,
      degreesOfFreedom: fit.degreesOfFreedom,
      groups: [...fit.groups],
      testsModulusLogSd: stiffnessPredictorOf(spec) === null ? null : medianErrorOf(used),
      modulusError: model,
      notes: listNotes(used, fit),
    },
    range: describeRange(used, values, spec),
    rows: used.map(({ row }) => row),
    leftOut,
    tests: used.map(({ row, response, weight }, i) => ({
      id: row.id,
      response,
      fitted: fit.fitted[i]!,
      residual: fit.residuals[i]!,
      leverage: fit.leverages[i]!,
      weight,
      values: values[i]!,
      robustWeight: fit.robustWeights[i]!,
    })),
  };
}

/** How sure most tests are of their modulus: one that was measured badly does not speak for the others. */
function medianErrorOf(used: readonly PreparedRow[]): number | null {
  const stated = used.flatMap(({ row }) => row.modulusLogSd ?? []);
  return stated.length === 0 ? null : median(stated);
}

function refuseTooFew(
  used: readonly PreparedRow[],
  leftOut: readonly LeftOutRow[],
  spec: RelationSpec,
): void {
  const fixedLevels = (['species', 'treatment'] as const)
    .filter((factor) => spec[factor] === 'fixed')
    .reduce(
      (sum, factor) => sum + Math.max(0, new Set(used.map(({ levels }) => levels[factor])).size - 1),
      0,
    );
  const coefficients = 1 + spec.predictors.length + fixedLevels;
  const needed = Math.max(coefficients + FEWEST_DEGREES, spec.estimator === 'robust' ? FEWEST_ROBUST : 0);
  if (used.length >= needed) return;
  const [reason, count] = mostOften(leftOut.map((left) => left.reason));
  throw new FitError(
    'relation.tests',
    `The relation has ${coefficients} coefficients and can use ${used.length} ${used.length === 1 ? 'test' : 'tests'}; expected ${needed} or more${spec.estimator === 'robust' ? ' for a robust fit' : ''}.` +
      (count > 0 ? ` Of ${leftOut.length} left out, ${count}: ${reason}` : ''),
    'Choose fewer predictors or groups, or add tests.',
  );
}

function mostOften(reasons: readonly string[]): [reason: string, count: number] {
  const counts = new Map<string, number>();
  for (const reason of reasons) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), ['', 0]);
}

/** Residuals below this share of the scatter of strengths are rounding. */
const ROUNDING = 1e-9;

function refuseExact(used: readonly PreparedRow[], { residualScale }: GroupedFit): void {
  const responses = used.map(({ response }) => response);
  if (residualScale > ROUNDING * Math.max(...responses.map(Math.abs))) return;
  throw new FitError(
    'relation.exact',
    `The ${used.length} tests lie exactly on the relation: nothing tells how far poles scatter about it.`,
    'Strengths that follow from the predictors by a formula are no measurements; check the columns.',
  );
}

function listNotes(used: readonly PreparedRow[], { robustWeights, groups }: GroupedFit): string[] {
  const notes: string[] = [];
  if (used[0]!.row.piece === 'specimen') {
    notes.push(
      'The tests broke specimens cut from poles, which are stronger than poles: strengths are too high for a pole.',
    );
  }
  const doubted = used.filter((_, i) => robustWeights[i]! < DOUBTED_WEIGHT).map(({ row }) => row.id);
  if (doubted.length > 0) {
    notes.push(
      `${doubted.length} of ${used.length} tests count for less than half (${doubted.join(', ')}). Where they are true, intervals do not ` +
        'hold poles like them.',
    );
  }
  for (const { factor, variance, levels } of groups) {
    if (variance === 0) {
      notes.push(
        `The tests do not show that groups by ${factor} differ; with ${levels.length} groups that is no proof that they do not.`,
      );
    }
  }
  return notes;
}
