import type { z } from 'zod';
import { formatDifference } from '../../formatNumbers.ts';
import type { recomputeCalls } from '../contract/calibration/recomputeCalls.ts';

type Differences = z.output<(typeof recomputeCalls)['calibration.differences']['response']>;
type Crossings = Differences['crossings']['requirement'];
type Difference = Differences['rows'][number];

/** Places of the 5, 50 and 95 % quantiles among the ratios. */
const [LOW, MIDDLE, HIGH] = [0, 2, 4];

/** What a recompute changed over all, in sentences. Results are those of visits, and a pole may have several. */
export function tellDifferences({
  calibration,
  recomputed,
  poles,
  crossings,
  strengths,
  ratios,
  left,
}: Differences): string[] {
  const change = (quantile: number) => formatDifference(ratios[quantile]! - 1);
  const without = [
    left.unchanged > 0 && `${left.unchanged} unchanged`,
    left.withoutStrength > 0 && `${left.withoutStrength} without a strength`,
    left.assessedMeanwhile > 0 && `${left.assessedMeanwhile} assessed anew meanwhile`,
    left.failed.length > 0 && `${left.failed.length} failed`,
  ].filter(Boolean);
  return [
    `${count(recomputed, 'new result')} under ${calibration}: ${nameVisits(recomputed, poles)}. The results before are kept.`,
    ...tellStrengths(strengths),
    `Median against the requirement: ${tellCrossings(crossings.requirement)}.`,
    `Median against the threshold of the strength-loss rule: ${tellCrossings(crossings.threshold)}.`,
    ...(ratios.length > 0
      ? [
          `Capacity changes by ${change(MIDDLE)} in the middle, ${change(LOW)} to ${change(HIGH)} for nine visits in ten.`,
        ]
      : []),
    ...(without.length > 0 ? [`Visits without a new result: ${without.join(', ')}.`] : []),
  ];
}

/** What a recompute changed for one visit, in few words. */
export function nameChange({ crossed, strength, before, after }: Difference): string {
  if (strength === 'lost') return 'capacity not told any more';
  if (strength === 'gained') return 'capacity told where none was';
  if (crossed.length === 0) return 'neither side';
  const isLower = (after.capacityNm?.value ?? 0) < (before.capacityNm?.value ?? 0);
  return `${crossed.join(' and ')}: median now ${isLower ? 'below' : 'above'}`;
}

function tellStrengths({
  lost,
  polesLost,
  lostBelow,
  gained,
  polesGained,
}: Differences['strengths']): string[] {
  return [
    ...(lost > 0
      ? [
          `Capacity not told any more by this calibration: ${nameVisits(lost, polesLost)}, ${lostBelow === 0 ? 'none' : lostBelow} of them with the median below the requirement before.`,
        ]
      : []),
    ...(gained > 0 ? [`Capacity told where none was: ${nameVisits(gained, polesGained)}.`] : []),
  ];
}

function tellCrossings({ nowBelow, polesNowBelow, nowAbove, polesNowAbove }: Crossings): string {
  return `${nameVisits(nowBelow, polesNowBelow)} now below, ${nameVisits(nowAbove, polesNowAbove)} now above`;
}

function nameVisits(visits: number, poles: number): string {
  return visits === 0 ? 'no visit' : `${count(visits, 'visit')} to ${count(poles, 'pole')}`;
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? '' : 's'}`;
}
