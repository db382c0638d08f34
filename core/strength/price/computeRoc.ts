import { areaInterval } from './areaInterval.ts';
import { countAtCuts, cutByThreshold } from './countByThreshold.ts';
import {
  checkJudgedTests,
  DEFAULT_LEVEL,
  DEFAULT_RESAMPLES,
  DEFAULT_SEED,
  type Interval,
  type JudgedTest,
  type ResamplingOptions,
} from './judgedTest.ts';
import { areAllDifferent, resamplePoles, takePercentiles } from './resamplePoles.ts';
import { FEW_WEAK } from './tellLimits.ts';

export type Roc = {
  /** From "replace none" (0, 0) to "replace all" (1, 1): share of sound poles replaced, share of weak poles caught. */
  readonly points: readonly {
    readonly threshold: number | null;
    readonly needlessShare: number;
    readonly caughtShare: number;
  }[];
  /** Chance that a weak pole is given a higher chance of being weak than a sound one; ties count half. */
  readonly area: number;
  /** Analytic, for poles tested once each; null where some were tested more often. */
  readonly interval: Interval | null;
  /** By bootstrap over poles; null where too few draws held both kinds. Of no width where the tests part perfectly. */
  readonly bootstrap: Interval | null;
  readonly statements: readonly string[];
};

/**
 * Computes the receiver operating curve of the chances against what broke, its area and the area's intervals.
 * Area: Mann and Whitney's statistic over the number of pairs (Bamber 1975; Hanley and McNeil 1982, Radiology 143, 29-36).
 * @returns null where all tests are weak or none is: there is no curve
 * @throws InputError `price.*`
 */
export function computeRoc(tests: readonly JudgedTest[], options: ResamplingOptions = {}): Roc | null {
  checkJudgedTests(tests, options);
  const { level = DEFAULT_LEVEL, resamples = DEFAULT_RESAMPLES, seed = DEFAULT_SEED } = options;
  const cuts = cutByThreshold(tests);
  const { missed, needless, weak, sound } = countAtCuts(cuts, new Uint32Array(tests.length).fill(1));
  if (weak === 0 || sound === 0) return null;
  const poleIds = cuts.sorted.map(({ poleId }) => poleId);
  const area = areaOf(cuts.sorted, new Uint32Array(tests.length).fill(1));
  const drawn = new Float64Array(resamples);
  let draw = 0;
  resamplePoles(poleIds, resamples, seed, (times) => {
    drawn[draw++] = areaOf(cuts.sorted, times);
  });
  const isIndependent = areAllDifferent(poleIds);
  const statements: string[] = [];
  if (area === 1 || area === 0) {
    statements.push(
      'The tests part perfectly, so that the bootstrap has no width. That says how few they are, not how sure the area is.',
    );
  }
  if (Math.min(weak, sound) < FEW_WEAK) {
    statements.push(
      `${weak} weak and ${sound} sound tests: with fewer than ${FEW_WEAK} of a kind the curve is a few steps, and another series would draw another.`,
    );
  }
  return {
    points: cuts.thresholds
      .map((threshold, c) => ({
        threshold,
        needlessShare: needless[c]! / sound,
        caughtShare: 1 - missed[c]! / weak,
      }))
      .reverse(),
    area,
    interval: isIndependent ? areaInterval(area, weak, sound, level) : null,
    bootstrap: takePercentiles(drawn, level),
    statements,
  };
}

/** Area for tests in ascending order of their chance, each counted so often; NaN where a kind is missing. */
function areaOf(sorted: readonly JudgedTest[], times: ArrayLike<number>): number {
  let soundBelow = 0;
  let weak = 0;
  let pairs = 0;
  for (let i = 0; i < sorted.length; ) {
    let weakHere = 0;
    let soundHere = 0;
    const { chanceBelow } = sorted[i]!;
    for (; i < sorted.length && sorted[i]!.chanceBelow === chanceBelow; i++) {
      if (sorted[i]!.isWeak) weakHere += times[i]!;
      else soundHere += times[i]!;
    }
    pairs += weakHere * (soundBelow + soundHere / 2);
    soundBelow += soundHere;
    weak += weakHere;
  }
  return weak === 0 || soundBelow === 0 ? Number.NaN : pairs / (weak * soundBelow);
}
