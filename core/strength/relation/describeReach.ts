import t from '@stdlib/stats-base-dists-t';
import { determinant, Matrix } from 'ml-matrix';
import { meanOf } from './describeRange.ts';
import type { RelationBasis } from './fitRelation.ts';
import { distanceOf, invertScaled } from './mahalanobis.ts';
import { predictByLine } from './predictByLine.ts';
import { measurementsOf, type PoleMeasurements } from './predictors.ts';
import { groupedFactorsOf, levelOf, type PreparedRow, prepareRows } from './prepareRows.ts';
import { FACTORS, type FactorName } from './relationSpec.ts';

/** Poles of one species or treatment that the tests hold, and whether the relation tells them too strong. */
export type TestedKind = {
  readonly factor: FactorName;
  readonly level: string;
  readonly poles: number;
  /** By how much these tests came out weaker than the relation tells, on the scale of the fit; null where chance may have made it. */
  readonly overstated: number | null;
};

/** Ends on the scale of the fit. */
type Span = { readonly min: number; readonly max: number };

/** Where most tests lie. */
export type Ordinary = {
  readonly middles: ReadonlyMap<string, readonly number[]>;
  readonly inverseCovariance: readonly (readonly number[])[];
  readonly limit: number;
  /** Offsets of tests beyond the limit, by their middle: who lies as far out as a pole is looked for among them. */
  readonly farOut: ReadonlyMap<string, readonly (readonly number[])[]>;
};

/** How far the tests of a relation carry it: where poles lie that it may speak of. */
export type Reach = {
  /** Groups whose own middle a pole's distance is from; null: that of all tests. */
  readonly parted: FactorName | null;
  /** Middles of the tests in the measured predictors, by group; under '' where nothing is parted. */
  readonly middles: ReadonlyMap<string, readonly number[]>;
  /** Least and greatest measured predictor of the tests about each middle. */
  readonly tested: ReadonlyMap<string, readonly Span[]>;
  /** Of each measured predictor about each middle the value that a tenth of the tests, or the least one, does not pass. */
  readonly softEnds: ReadonlyMap<string, readonly number[]>;
  /** Of the predictors about their middle, on the scale of the fit. */
  readonly inverseCovariance: readonly (readonly number[])[];
  /** Least and greatest offset of a test from its middle. */
  readonly spans: readonly Span[];
  /** Distance of the outermost test from its middle, in standard deviations over all predictors together. */
  readonly edge: number;
  /** Beyond this distance, and beyond the tests, nothing is told. */
  readonly limit: number;
  /** Where tests lie without those beyond the limit, which widen the scatter in all directions; and who lies far out from there. */
  readonly ordinary: Ordinary;
  /** Standard deviation of the tested strengths, on the scale of the fit. */
  readonly strengthSd: number;
  readonly kinds: readonly TestedKind[];
};

/**
 * A test is far out from three times the mean leverage on, 3 p / n with p coefficients: the warning leverage h* of the domain in which a
 * regression model is applied (Tropsha, Gramatica and Gombar 2003, QSAR Comb. Sci. 22:69; Sahigara et al. 2012, Molecules 17:4791; from memory).
 */
const WARNING_LEVERAGE = 3;
/** A pole is among the softest where no more than this share of the tests is softer (ours). */
const SOFT_SHARE = 0.1;
/** Level of the test that a kind of pole is weaker than the relation tells; shared out over the kinds that are looked at. */
const OVERSTATED_LEVEL = 0.05;

/**
 * The fewest poles of a species, or of another kind that the relation takes together with others, from which it may speak of that kind (ours): of
 * fewer than five, all may be stronger than the middle pole of their kind by chance at more than one in twenty (the sign test: 2^-4 = 0.06,
 * 2^-5 = 0.03), so that not even a kind that is weaker throughout could be seen.
 */
export const FEWEST_OF_A_KIND = 5;

/**
 * Describes how far the tests of a relation carry it. Leverage of a pole h0 = x0'(X'X)^-1 x0 is 1/n + d^2/(n - 1), d its Mahalanobis distance
 * from the middle of the tests: beyond the largest leverage of the tests a prediction is a hidden extrapolation (Montgomery, Peck and Vining,
 * Introduction to Linear Regression Analysis, 5th ed., 3.8; as read in slides on it). Where groups have levels of their own, distances are from
 * the middle of the group, by the covariance within groups: a soft pole of a stiff species is far out though others are as soft.
 * Measured moduli are looked at, never those drawn towards the tests.
 */
export function describeReach(basis: RelationBasis): Reach {
  const { spec, rows } = basis;
  const { used } = prepareRows(rows, spec);
  const k = spec.predictors.length;
  const parting = groupedFactorsOf(spec)[0] ?? null;
  const spread = (parting !== null && spreadAbout(used, k, parting)) || spreadAbout(used, k, null)!;
  const { offsets, freedom, inverseCovariance } = spread;
  const limit = limitOf(freedom, k, used.length);
  const valuesOf = (name: string) =>
    used.filter(({ row }) => middleOf(spread.parted, row) === name).map(({ values }) => values);
  const byMiddle = <T>(describe: (values: readonly (readonly number[])[]) => T) =>
    new Map([...spread.middles.keys()].map((name) => [name, describe(valuesOf(name))]));
  return {
    parted: spread.parted,
    middles: spread.middles,
    tested: byMiddle((values) => spansOf(values, k)),
    softEnds: byMiddle((values) =>
      spread.offsets[0]!.map((_, j) => {
        const ascending = values.map((row) => row[j]!).sort((x, y) => x - y);
        return ascending[Math.ceil(SOFT_SHARE * ascending.length) - 1]!;
      }),
    ),
    inverseCovariance,
    spans: spansOf(offsets, k),
    edge: Math.max(...offsets.map((u) => distanceOf(inverseCovariance, u))),
    limit,
    ordinary: describeOrdinary(used, k, spread, limit),
    strengthSd: spreadOf(used.map(({ response }) => response)),
    kinds: FACTORS.flatMap((factor) => describeKinds(factor, used, basis)),
  };
}

/** Distance at the warning leverage: 3 p / n = 1 / n + d^2 / (n - 1) with p = k + 1, solved for d. */
function limitOf(freedom: number, k: number, count: number): number {
  return Math.sqrt((freedom * (WARNING_LEVERAGE * (k + 1) - 1)) / count);
}

/** Looks once without the tests beyond the limit; with all of them where the others tell no scatter. */
function describeOrdinary(used: readonly PreparedRow[], k: number, whole: Spread, limit: number): Ordinary {
  const near = used.filter((_, i) => distanceOf(whole.inverseCovariance, whole.offsets[i]!) <= limit);
  const trimmed = spreadAbout(near, k, whole.parted, true);
  const widths = spansOf(whole.offsets, k).map(({ min, max }) => max - min);
  const isEnough =
    trimmed?.middles.size === whole.middles.size &&
    spansOf(trimmed.offsets, k).every(({ min, max }, j) => max - min > ROUNDING * widths[j]!);
  const { middles, inverseCovariance, freedom } = isEnough ? trimmed : whole;
  const ordinaryLimit = isEnough ? limitOf(freedom, k, near.length) : limit;
  const farOut = new Map<string, number[][]>([...middles.keys()].map((name) => [name, []]));
  for (const { values, row } of used) {
    const name = middleOf(whole.parted, row);
    const offsets = values.map((value, j) => value - middles.get(name)![j]!);
    if (distanceOf(inverseCovariance, offsets) > ordinaryLimit) farOut.get(name)!.push(offsets);
  }
  return { middles, inverseCovariance, limit: ordinaryLimit, farOut };
}

function spansOf(rows: readonly (readonly number[])[], k: number): Span[] {
  return Array.from({ length: k }, (_, j) => {
    const column = rows.map((row) => row[j]!);
    return { min: Math.min(...column), max: Math.max(...column) };
  });
}

/** Name of the middle that a pole's distance is from. */
export function middleOf(parted: FactorName | null, pole: Pick<PoleMeasurements, FactorName>): string {
  return parted === null ? '' : (levelOf(parted, pole) ?? '');
}

type Spread = {
  readonly parted: FactorName | null;
  readonly middles: ReadonlyMap<string, readonly number[]>;
  /** Tests less groups. */
  readonly freedom: number;
  /** Of each test from its middle. */
  readonly offsets: readonly (readonly number[])[];
  readonly inverseCovariance: readonly (readonly number[])[];
};

/** Tests that scatter by less than this share of what all do are alike but for rounding. */
const ROUNDING = 1e-6;

/** A covariance whose correlations have less than this determinant cannot be turned round. */
const LEAST_DETERMINANT = 1e-9;

/** Scatter of predictors about the middle of each group, or of all; null where too few tests or too like ones tell none within groups. */
function spreadAbout(
  used: readonly PreparedRow[],
  k: number,
  parted: FactorName | null,
  mayFail = parted !== null,
): Spread | null {
  const middles = new Map<string, number[]>();
  for (const name of new Set(used.map(({ row }) => middleOf(parted, row)))) {
    const own = used.filter(({ row }) => middleOf(parted, row) === name);
    middles.set(
      name,
      Array.from({ length: k }, (_, j) => meanOf(own.map(({ values }) => values[j]!))),
    );
  }
  const freedom = used.length - middles.size;
  const offsets = used.map(({ values, row }) => {
    const middle = middles.get(middleOf(parted, row))!;
    return values.map((value, j) => value - middle[j]!);
  });
  if (mayFail && freedom <= k + 1) return null;
  const covariance = Array.from({ length: k }, (_, i) =>
    Array.from({ length: k }, (__, j) => offsets.reduce((sum, u) => sum + u[i]! * u[j]!, 0) / freedom),
  );
  if (mayFail && !canInvert(covariance)) return null;
  return {
    parted,
    middles,
    freedom,
    offsets,
    inverseCovariance: invertScaled(covariance),
  };
}

function canInvert(covariance: readonly (readonly number[])[]): boolean {
  const sds = covariance.map((row, i) => Math.sqrt(row[i]!));
  if (!sds.every((sd) => sd > 0)) return false;
  return (
    determinant(new Matrix(covariance.map((row, i) => row.map((c, j) => c / (sds[i]! * sds[j]!))))) >
    LEAST_DETERMINANT
  );
}

/**
 * Species that the relation takes together or draws towards each other, and treatments that it draws so; a kind with a level of its own is not
 * lifted by the others. Treatments that it takes together are names as somebody wrote them, and are not told apart.
 */
function describeKinds(factor: FactorName, used: readonly PreparedRow[], basis: RelationBasis): TestedKind[] {
  const treatedAs = basis.spec[factor];
  if (treatedAs === 'fixed' || (factor === 'treatment' && treatedAs === 'none')) return [];
  const levels = [...new Set(used.flatMap(({ row }) => levelOf(factor, row) ?? []))].sort();
  return levels.map((level) => {
    const own = used.filter(({ row }) => levelOf(factor, row) === level);
    const poles = new Set(own.map(({ row }) => row.poleId)).size;
    const isJudged = treatedAs === 'none' && levels.length > 1 && poles >= FEWEST_OF_A_KIND;
    return {
      factor,
      level,
      poles,
      overstated: isJudged ? findOverstated(own, basis, OVERSTATED_LEVEL / levels.length) : null,
    };
  });
}

/** Mean by which tests came out weaker than the relation tells, where Student's t says that it is no chance. */
function findOverstated(own: readonly PreparedRow[], basis: RelationBasis, level: number): number | null {
  const short = own.flatMap(({ row, response }) => {
    const { modulusOfRupturePa } = predictByLine(basis, measurementsOf(row));
    return modulusOfRupturePa === null ? [] : [modulusOfRupturePa.centre - response];
  });
  const mean = meanOf(short);
  const limit = (t.quantile(1 - level, short.length - 1) * spreadOf(short)) / Math.sqrt(short.length);
  return mean > limit ? mean : null;
}

function spreadOf(values: readonly number[]): number {
  const mean = meanOf(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
