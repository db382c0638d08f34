import type { JudgedTest } from './judgedTest.ts';

/** More thresholds than this are thinned evenly: a curve on screen shows no more. */
const MOST_THRESHOLDS = 201;

/** Tests in ascending order of their chance, with the places where a threshold parts them. */
export type ThresholdCuts = {
  readonly sorted: readonly JudgedTest[];
  /** Of each cut: how many of the sorted tests lie below, and so are kept. Ascending from 0 to all. */
  readonly kept: readonly number[];
  /** Of each cut: a pole is replaced where its chance is at or above; null: never. Half way between neighbours. */
  readonly thresholds: readonly (number | null)[];
  /** Of each cut: above this threshold the tests are parted so, which is the greatest chance below it; null: from 0 on. */
  readonly above: readonly (number | null)[];
  /** Of each cut: the highest threshold that parts the tests so, which is the least chance above it; null: any higher one. */
  readonly highest: readonly (number | null)[];
};

/** Lists every threshold that parts the tests differently, from "replace all" (0) to "replace none" (null). */
export function cutByThreshold(tests: readonly JudgedTest[]): ThresholdCuts {
  const sorted = [...tests].sort((a, b) => a.chanceBelow - b.chanceBelow);
  const kept = [0];
  for (let i = 1; i < sorted.length; i++) {
    if (sorted[i]!.chanceBelow > sorted[i - 1]!.chanceBelow) kept.push(i);
  }
  kept.push(sorted.length);
  const used = kept.length <= MOST_THRESHOLDS ? kept : thin(kept);
  const thresholds = used.map((below) => {
    if (below === 0) return 0;
    if (below === sorted.length) return null;
    return (sorted[below - 1]!.chanceBelow + sorted[below]!.chanceBelow) / 2;
  });
  const above = used.map((below) => sorted[below - 1]?.chanceBelow ?? null);
  const highest = used.map((below) => sorted[below]?.chanceBelow ?? null);
  return { sorted, kept: used, thresholds, above, highest };
}

/**
 * Counts at each cut the weak poles that are kept (missed) and the sound ones that are replaced (needless).
 * @param times - how often each sorted test counts
 */
export function countAtCuts(
  { sorted, kept }: ThresholdCuts,
  times: ArrayLike<number>,
): { missed: Float64Array; needless: Float64Array; weak: number; sound: number } {
  const missed = new Float64Array(kept.length);
  const needless = new Float64Array(kept.length);
  let weak = 0;
  let soundKept = 0;
  let cut = 0;
  for (let i = 0; i <= sorted.length; i++) {
    if (kept[cut] === i) {
      missed[cut] = weak;
      needless[cut] = soundKept;
      cut++;
    }
    if (i === sorted.length) break;
    if (sorted[i]!.isWeak) weak += times[i]!;
    else soundKept += times[i]!;
  }
  for (let c = 0; c < kept.length; c++) needless[c] = soundKept - needless[c]!;
  return { missed, needless, weak, sound: soundKept };
}

function thin(kept: readonly number[]): number[] {
  return Array.from(
    { length: MOST_THRESHOLDS },
    (_, i) => kept[Math.round((i * (kept.length - 1)) / (MOST_THRESHOLDS - 1))]!,
  );
}
