import type { RelationFit } from './calibrationDocument.ts';
import { fitRobust } from './fitRobust.ts';
import { type LeastSquares, type LinearModel, leastSquares } from './leastSquares.ts';
import { preparePooled } from './pooledSystem.ts';
import type { PreparedRow } from './prepareRows.ts';
import type { FactorName, RelationSpec } from './relationSpec.ts';
import { spreadOverRatios } from './spreadOverRatios.ts';
import { findVarianceRatios } from './varianceRatios.ts';

export type Group = RelationFit['groups'][number];

/** A linear model over predictors and groups, and what one pole scatters about it. */
export type GroupedFit = {
  /** Fixed terms, then levels of pooled groups. */
  readonly terms: readonly string[];
  readonly coefficients: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  readonly residualScale: number;
  readonly degreesOfFreedom: number;
  readonly groups: readonly Group[];
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  readonly leverages: readonly number[];
  /** From 0 to 1, of a robust fit; 1 in others. */
  readonly robustWeights: readonly number[];
};

export type GroupedModel = {
  readonly rows: readonly PreparedRow[];
  readonly response: readonly number[];
  /** Numeric predictors of each row, and their names. */
  readonly values: readonly (readonly number[])[];
  readonly names: readonly string[];
  readonly spec: Pick<RelationSpec, FactorName>;
  readonly estimator: RelationSpec['estimator'];
};

export const INTERCEPT = 'intercept';

/** Name of a level's coefficient. */
export function levelTerm(factor: FactorName, level: string): string {
  return `${factor}:${level}`;
}

/**
 * Fits an intercept, numeric predictors and groups. Fixed levels are compared with the first in the order of the alphabet; pooled levels are
 * random intercepts, drawn towards 0 by restricted maximum likelihood.
 * @throws FitError `relation.collinear`
 */
export function fitGrouped({ rows, response, values, names, spec, estimator }: GroupedModel): GroupedFit {
  const factors = (['species', 'treatment'] as const).flatMap((factor) => {
    const treatedAs = spec[factor];
    if (treatedAs === 'none') return [];
    const ofRows = rows.map(({ levels }) => levels[factor]!);
    const levels = [...new Set(ofRows)].sort();
    return [{ factor, treatedAs, ofRows, levels, columns: treatedAs === 'fixed' ? levels.slice(1) : levels }];
  });
  const fixed = factors.filter(({ treatedAs }) => treatedAs === 'fixed');
  const pooled = factors.filter(({ treatedAs }) => treatedAs === 'pooled');
  const indicators = (of: typeof factors, i: number) =>
    of.flatMap(({ ofRows, columns }) => columns.map((level) => Number(ofRows[i] === level)));
  const termsOf = (of: typeof factors) =>
    of.flatMap(({ factor, columns }) => columns.map((level) => levelTerm(factor, level)));
  const terms = [INTERCEPT, ...names, ...termsOf(fixed)];
  const model = {
    terms,
    columns: rows.map((_, i) => [1, ...values[i]!, ...indicators(fixed, i)]),
    response,
    weights: rows.map(({ weight }) => weight),
  };

  const robust = estimator === 'robust' ? fitRobust(model) : null;
  const pooling =
    pooled.length > 0
      ? poolLevels(
          model,
          pooled.map(({ columns }) => columns.length),
          rows.map((_, i) => indicators(pooled, i)),
        )
      : null;
  const fit: LeastSquares = robust ?? pooling?.fit ?? leastSquares(model);
  // penalised squares over n - p are the residual variance of restricted maximum likelihood; without pooling, of least squares
  const residualScale =
    robust?.residualScale ?? Math.sqrt(fit.penalisedSquares / (rows.length - terms.length));
  const allTerms = [...terms, ...termsOf(pooled)];
  const describeVariance = (k: number) => {
    if (k < 0) return { variance: null, newGroupVariance: null };
    const variance = (pooling!.ratios[k]! * residualScale) ** 2;
    return {
      variance,
      newGroupVariance: Math.max(
        pooling!.groupVariances[k]!,
        widenVariance(variance, pooled[k]!.levels.length),
      ),
    };
  };
  return {
    terms: allTerms,
    coefficients: fit.coefficients,
    covariance:
      pooling?.covariance ??
      fit.unscaledCovariance.map((line) => line.map((value) => value * residualScale ** 2)),
    residualScale,
    degreesOfFreedom: countDegrees(rows.length, terms.length, pooled),
    groups: factors.map(({ factor, treatedAs, levels, ofRows }) => ({
      ...describeVariance(pooled.findIndex((p) => p.factor === factor)),
      factor,
      treatedAs,
      levels: levels.map((level) => ({
        level,
        poles: new Set(rows.filter((_, i) => ofRows[i] === level).map(({ row }) => row.poleId)).size,
        effect: fit.coefficients[allTerms.indexOf(levelTerm(factor, level))] ?? 0,
      })),
    })),
    fitted: fit.fitted,
    residuals: fit.residuals,
    leverages: fit.leverages,
    robustWeights: robust?.weights ?? rows.map(() => 1),
  };
}

/** Fewer degrees of freedom tell nothing of how far poles scatter (ours): of 3, the t quantile is 3.2 in place of 2. */
export const FEWEST_DEGREES = 3;

/**
 * Tests less fixed terms, and less the levels of pooled groups as though they were fixed (containment, as nlme counts what varies within groups:
 * Pinheiro and Bates 2000, Mixed-Effects Models in S and S-PLUS, 2.4.2, from memory).
 */
function countDegrees(
  tests: number,
  terms: number,
  pooled: readonly { readonly columns: readonly string[] }[],
): number {
  const levels = pooled.reduce((sum, { columns }) => sum + columns.length - 1, 0);
  return Math.max(Math.min(FEWEST_DEGREES, tests - terms), tests - terms - levels);
}

type FixedModel = Omit<LinearModel, 'effects'> & { readonly weights: readonly number[] };

/** The variance of n groups is itself unsure: that of a t with n - 1 degrees of freedom stands for it where it has one (ours). */
function widenVariance(variance: number, groups: number): number {
  return groups > 3 ? (variance * (groups - 1)) / (groups - 3) : variance;
}

/** @param sizes - levels of each pooled factor */
function poolLevels(
  model: FixedModel,
  sizes: readonly number[],
  effectColumns: readonly (readonly number[])[],
) {
  const factors = sizes.map((levels, k) => ({
    first: sizes.slice(0, k).reduce((sum, size) => sum + size, 0),
    levels,
  }));
  const system = preparePooled({ ...model, effectColumns, factors });
  const ratios = findVarianceRatios(system);
  const fit = leastSquares({
    ...model,
    effects: {
      columns: effectColumns,
      ratios: sizes.flatMap((size, k) => Array<number>(size).fill(ratios[k]!)),
    },
  });
  return { ratios, fit, ...spreadOverRatios(system, fit.coefficients) };
}
