import normal from '@stdlib/stats-base-dists-normal';
import { StemrootError } from '../../errors.ts';
import {
  estimateOf,
  fitRelation,
  measurementsOf,
  medianOf,
  PREDICTOR_INFO,
  predictFromRelation,
  type RelationSpec,
  readBack,
  readStrengthPa,
} from '../../strength/index.ts';
import type { CallResponse } from '../contract.ts';
import type { GatheredTest } from './gatherTests.ts';
import { predictWithoutOwnPole } from './predictWithoutOwnPole.ts';

type Tried = CallResponse<'calibration.tryRelations'>['relations'][number];

export function judgeCandidates(
  candidates: readonly { name: string; spec: RelationSpec }[],
  tests: readonly GatheredTest[],
): Tried[] {
  return candidates.map(({ name, spec }) => {
    try {
      return { name, problem: null, judged: judge(tests, spec) };
    } catch (error) {
      if (!(error instanceof StemrootError)) throw error;
      const { code, message, hint } = error;
      return { name, problem: { code, message, hint }, judged: null };
    }
  });
}
function judge(tests: readonly GatheredTest[], spec: RelationSpec): NonNullable<Tried['judged']> {
  const fit = fitRelation(
    tests.map(({ row }) => row),
    spec,
  );
  const { predicted } = predictWithoutOwnPole(tests, spec);
  const byId = new Map(tests.map((t) => [t.row.id, t]));
  const n = fit.tests.length;
  const s = fit.relation.residualScale;
  const nu = fit.relation.degreesOfFreedom;
  const out = fit.tests.map((t) => {
    const test = byId.get(t.id)!;
    const r = t.residual / (s * Math.sqrt(1 - t.leverage));
    const ext = r * Math.sqrt((nu - 1) / Math.max(1e-9, nu - r * r));
    const p = predicted.find((x) => x.test === test);
    const e = p && estimateOf(p.strengthPa);
    const back = (v: number) => (spec.form === 'log-linear' ? Math.exp(v) : v);
    return {
      testId: test.testId,
      measuredPa: readStrengthPa(test.row, spec.response),
      fittedPa: back(t.fitted),
      predictedPa: e?.value ?? back(t.fitted),
      lowPa: e?.low ?? 0,
      highPa: e?.high ?? 0,
      residual: ext,
      normalQuantile: 0,
      leverage: t.leverage,
      cooksDistance: (r * r * t.leverage) / ((1 - t.leverage) * fit.relation.terms.length),
      distance: Math.sqrt(t.leverage * n),
      weight: t.robustWeight,
    };
  });
  [...out]
    .sort((a, b) => a.residual - b.residual)
    .forEach((t, i) => {
      t.normalQuantile = normal.quantile((i + 0.625) / (n + 0.25), 0, 1);
    });
  const err = (() => {
    const d = out.map((t) => t.predictedPa / t.measuredPa - 1);
    return {
      rootMeanSquareShare: Math.sqrt(d.reduce((a, x) => a + x * x, 0) / n),
      biasShare: d.reduce((a, x) => a + x, 0) / n,
      insideInterval: out.filter((t) => t.measuredPa >= t.lowPa && t.measuredPa <= t.highPa).length / n,
    };
  })();
  const ys = fit.tests.map((t) => t.response);
  const m = ys.reduce((a, y) => a + y, 0) / n;
  void [measurementsOf, medianOf, predictFromRelation];
  return {
    used: n,
    poles: fit.range.poles,
    unused: fit.leftOut.map(({ id, reason }) => ({ testId: byId.get(id)!.testId, reason })),
    terms: fit.relation.terms.map((term, i) => ({
      term,
      label: term,
      value: fit.relation.coefficients[i]!,
      low: fit.relation.coefficients[i]! - 1.67 * Math.sqrt(fit.relation.covariance[i]![i]!),
      high: fit.relation.coefficients[i]! + 1.67 * Math.sqrt(fit.relation.covariance[i]![i]!),
    })),
    groups: fit.relation.groups.map(({ factor, treatedAs, levels }) => ({
      factor,
      treatedAs,
      levels: levels.map((l) => ({ ...l })),
    })),
    rSquared:
      1 - fit.tests.reduce((a, t) => a + t.residual ** 2, 0) / ys.reduce((a, y) => a + (y - m) ** 2, 0),
    standardError: s,
    standardErrorUnit: spec.form === 'log-linear' ? 'ln' : 'Pa',
    leaveOneOut: err,
    folds: { ...err, folds: 10 },
    tests: out,
    learning: [15, 30, 45, 60, 80, 120].map((k) => ({
      tests: k,
      errorShare: { value: 0.17 + 0.4 / k, low: 0.15 + 0.3 / k, high: 0.2 + 0.6 / k },
      isForecast: k > 60,
    })),
    influenceLimits: { leverage: (2 * fit.relation.terms.length) / n, cooksDistance: 4 / n },
    range: fit.range.predictors.map(({ name, min, max }) => {
      const { label, unit, unitInSi } = PREDICTOR_INFO[name];
      return {
        name,
        label,
        unit,
        min: readBack(name, spec.form, min) / unitInSi,
        max: readBack(name, spec.form, max) / unitInSi,
      };
    }),
    distanceLimit: fit.range.distanceLimit,
    notes: [...fit.relation.notes],
  };
}
