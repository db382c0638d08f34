import { InputError } from '../../errors.ts';
import { type CostPart, costInterval } from './costInterval.ts';
import { countAtCuts, cutByThreshold, type ThresholdCuts } from './countByThreshold.ts';
import { exactShare } from './exactShare.ts';
import {
  type Costs,
  checkCosts,
  checkJudgedTests,
  DEFAULT_LEVEL,
  DEFAULT_RESAMPLES,
  DEFAULT_SEED,
  type Interval,
  type JudgedTest,
  type ResamplingOptions,
  requireBetween,
} from './judgedTest.ts';
import { areAllDifferent, resamplePoles, takePercentiles } from './resamplePoles.ts';
import { tellLimits } from './tellLimits.ts';

export type PriceOptions = ResamplingOptions & {
  /**
   * Share of weak poles where the threshold is to be used, above 0 and below 1: a series of break tests seldom has the share of the
   * line. @default the share among the tests
   */
  readonly shareWeak?: number | null;
  /** Whether the chances come from a relation fitted to these same tests. @default false */
  readonly sawTheTests?: boolean;
};

const LEAST_SHARE = 1e-6;

type Counted = { readonly count: number } & Interval;
type Share = { readonly value: number } & Interval;

export type ThresholdPrice = {
  /** Replace where the chance of being below the requirement is at or above; null: replace none. */
  readonly threshold: number | null;
  /** From above the one up to the other, thresholds part the tests so; null: from 0, however high. Between prices of a list that was thinned, nearly so. */
  readonly above: number | null;
  readonly highest: number | null;
  /** Weak poles kept and sound poles replaced among the tests, with bootstrap intervals of the counts. */
  readonly missed: Counted;
  readonly needless: Counted;
  /** Missed of the weak and needless of the sound, with exact limits; null without any, or where poles were tested twice. */
  readonly missedShare: Share | null;
  readonly needlessShare: Share | null;
  /** Expected cost a pole beyond that of right decisions. */
  readonly cost: {
    readonly value: number;
    /** From exact limits ({@link costInterval}); null where poles were tested twice. The one to go by. */
    readonly interval: Interval | null;
    /** By bootstrap over poles; null where too few draws gave a cost. Far too narrow where few or none were missed. */
    readonly bootstrap: Interval | null;
  };
};

export type ThresholdPrices = {
  readonly tests: number;
  readonly poles: number;
  readonly weak: number;
  /** Share of weak poles that the costs were computed with. */
  readonly shareWeak: number;
  /** From "replace all" to "replace none". */
  readonly prices: readonly ThresholdPrice[];
  /** The least cost over the tests; of equal ones the lowest threshold. Null where only one kind of pole was tested. */
  readonly best: {
    readonly threshold: number | null;
    readonly cost: number;
    /** That cost with what choosing by the same tests flatters it by added back (bootstrap). */
    readonly correctedCost: number;
    /** Where the best threshold of resampled series lies; null: never. */
    readonly thresholdLow: number | null;
    readonly thresholdHigh: number | null;
  } | null;
  /** Threshold that the costs alone call for where the chances hold: needless / (needless + missed). */
  readonly thresholdByCosts: number;
  readonly statements: readonly string[];
};

/**
 * Prices every threshold on the chance of being below the requirement: expected cost, missed and needless poles, each with its
 * interval, and what too few weak poles leave unsaid.
 * Cost a pole = share weak x missed share x cost of a missed pole + share sound x needless share x cost of a needless one.
 * Shares have exact limits, costs the interval that follows from those; beside them a bootstrap draws whole poles ({@link resamplePoles}); it cannot see a kind of pole that was never tested. The gain from choosing
 * the best threshold on the same tests is taken off as Efron 1983 (JASA 78, 316-331) does for prediction error (from memory).
 * @throws InputError `price.*`
 */
export function priceThresholds(
  tests: readonly JudgedTest[],
  costs: Costs,
  options: PriceOptions = {},
): ThresholdPrices {
  checkJudgedTests(tests, options);
  checkCosts(costs);
  const { level = DEFAULT_LEVEL, resamples = DEFAULT_RESAMPLES, seed = DEFAULT_SEED } = options;
  const { shareWeak = null, sawTheTests = false } = options;
  if (shareWeak !== null) requireBetween('shareWeak', shareWeak, LEAST_SHARE, 1 - LEAST_SHARE);
  const cuts = cutByThreshold(tests);
  const poleIds = cuts.sorted.map(({ poleId }) => poleId);
  const isIndependent = areAllDifferent(poleIds);
  const seen = countAtCuts(cuts, new Uint32Array(tests.length).fill(1));
  const hasBoth = seen.weak > 0 && seen.sound > 0;
  if (shareWeak !== null && !hasBoth) {
    throw new InputError(
      'price.share',
      `${seen.weak} of ${tests.length} tests are weak: with one kind only, costs cannot be carried over to another share of weak poles.`,
      'Leave the share out, or add tests of the other kind.',
    );
  }
  const costOfSeen = costAtCuts(seen, costs, shareWeak);
  const best = findLeast(costOfSeen);
  const drawn = drawFigures(cuts, costs, shareWeak, costOfSeen, resamples, seed);
  const usedShareWeak = shareWeak ?? seen.weak / tests.length;

  const prices = cuts.thresholds.map((threshold, c): ThresholdPrice => {
    const count = (figures: Float64Array[], value: number) => ({
      count: value,
      ...takePercentiles(figures[c]!, level)!,
    });
    const parts = partsAt(seen, c, costs, shareWeak);
    return {
      threshold,
      above: cuts.above[c]!,
      highest: cuts.highest[c]!,
      missed: count(drawn.missed, seen.missed[c]!),
      needless: count(drawn.needless, seen.needless[c]!),
      missedShare: isIndependent ? exactShare(seen.missed[c]!, seen.weak, level) : null,
      needlessShare: isIndependent ? exactShare(seen.needless[c]!, seen.sound, level) : null,
      cost: {
        value: costOfSeen[c]!,
        interval: isIndependent ? costInterval(parts, level) : null,
        bootstrap: takePercentiles(drawn.cost[c]!, level),
      },
    };
  });
  const bestCuts = takePercentiles(drawn.best, level);
  return {
    tests: tests.length,
    poles: new Set(poleIds).size,
    weak: seen.weak,
    shareWeak: usedShareWeak,
    prices,
    best: hasBoth
      ? {
          threshold: cuts.thresholds[best]!,
          cost: costOfSeen[best]!,
          correctedCost: costOfSeen[best]! + drawn.optimism,
          thresholdLow: cuts.thresholds[bestCuts?.low ?? 0]!,
          thresholdHigh: cuts.thresholds[bestCuts?.high ?? cuts.thresholds.length - 1]!,
        }
      : null,
    thresholdByCosts: costs.needlessReplacement / (costs.needlessReplacement + costs.missedWeak),
    statements: tellLimits(tests, { level, isIndependent, sawTheTests }),
  };
}

/** What is paid at a cut: of all tests, or of each kind where a share of weak poles was given. */
function partsAt(
  { missed, needless, weak, sound }: ReturnType<typeof countAtCuts>,
  cut: number,
  { missedWeak, needlessReplacement }: Costs,
  shareWeak: number | null,
): [CostPart, CostPart] {
  const isGiven = shareWeak !== null;
  return [
    {
      count: missed[cut]!,
      trials: isGiven ? weak : weak + sound,
      weight: isGiven ? shareWeak * missedWeak : missedWeak,
    },
    {
      count: needless[cut]!,
      trials: isGiven ? sound : weak + sound,
      weight: isGiven ? (1 - shareWeak) * needlessReplacement : needlessReplacement,
    },
  ];
}

/** Cost a pole at each cut; NaN where a share of weak poles was given and one of the kinds was not drawn. */
function costAtCuts(
  counts: ReturnType<typeof countAtCuts>,
  costs: Costs,
  shareWeak: number | null,
): Float64Array {
  return counts.missed.map((_, cut) =>
    partsAt(counts, cut, costs, shareWeak).reduce(
      (sum, part) => sum + (part.weight * part.count) / part.trials,
      0,
    ),
  );
}

function drawFigures(
  cuts: ThresholdCuts,
  costs: Costs,
  shareWeak: number | null,
  costOfSeen: Float64Array,
  resamples: number,
  seed: number,
) {
  const table = () => cuts.kept.map(() => new Float64Array(resamples));
  const [missed, needless, cost] = [table(), table(), table()];
  const best = new Float64Array(resamples);
  let draw = 0;
  let flattery = 0;
  let flattered = 0;
  resamplePoles(
    cuts.sorted.map(({ poleId }) => poleId),
    resamples,
    seed,
    (times) => {
      const counts = countAtCuts(cuts, times);
      const costOfDraw = costAtCuts(counts, costs, shareWeak);
      for (let c = 0; c < costOfDraw.length; c++) {
        missed[c]![draw] = counts.missed[c]!;
        needless[c]![draw] = counts.needless[c]!;
        cost[c]![draw] = costOfDraw[c]!;
      }
      const least = Number.isNaN(costOfDraw[0]!) ? Number.NaN : findLeast(costOfDraw);
      best[draw] = least;
      if (!Number.isNaN(least)) {
        flattery += costOfSeen[least]! - costOfDraw[least]!;
        flattered++;
      }
      draw++;
    },
  );
  return { missed, needless, cost, best, optimism: flattered === 0 ? 0 : Math.max(0, flattery / flattered) };
}

/** Place of the least; of equal ones the first, which replaces more. */
function findLeast(values: Float64Array): number {
  let least = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! < values[least]!) least = i;
  return least;
}
