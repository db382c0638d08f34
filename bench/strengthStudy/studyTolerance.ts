import normal from '@stdlib/stats-base-dists-normal';
import { lowerTolerance } from '../../core/strength/distribution/lowerTolerance.ts';
import { measurementsOf } from '../../core/strength/index.ts';
import { predictByLine } from '../../core/strength/relation/predictByLine.ts';
import { drawSeries, measuredStrength, normalDraws } from './drawPoles.ts';
import { fitOrNull } from './fitOrNull.ts';
import { listCases } from './listCases.ts';

/** Shares of series that give a relation whose limit is exceeded by 95 % of poles with the same measured modulus. */
export type ToleranceOutcome = {
  readonly count: number;
  readonly errorSd: number;
  readonly kept75: number;
  readonly kept95: number;
};

/** Draws series and counts how often their lower tolerance limits keep what they promise. */
export function studyTolerance(
  count: number,
  errorSd: number,
  series: number,
  seed: number,
): ToleranceOutcome {
  const draws = normalDraws(seed);
  const base = listCases()[0]!;
  const study = { ...base, testErrorSds: [errorSd], poleErrorSd: errorSd };
  const kept = { 0.75: 0, 0.95: 0 };
  let fitted = 0;
  for (let i = 0; i < series; i++) {
    const { tests, pole } = drawSeries(study, count, draws);
    const fit = fitOrNull(tests, study.spec);
    if (!fit) continue;
    fitted++;
    const prediction = predictByLine(fit, measurementsOf(pole.row));
    if (prediction.modulusOfRupturePa === null) throw new Error(prediction.withheldBecause);
    const { mean, sd } = measuredStrength(pole.row.modulusPa!, errorSd);
    for (const confidence of [0.75, 0.95] as const) {
      const limit = lowerTolerance(prediction.modulusOfRupturePa, prediction.leverage!, { confidence });
      if (normal.cdf(Math.log(limit), mean, sd) <= 0.05) kept[confidence]++;
    }
  }
  return { count, errorSd, kept75: kept[0.75] / fitted, kept95: kept[0.95] / fitted };
}
