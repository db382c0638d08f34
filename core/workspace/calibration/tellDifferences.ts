import type { z } from 'zod';
import { formatDifference } from '../../formatNumbers.ts';
import type { recomputeCalls } from '../contract/calibration/recomputeCalls.ts';

type Differences = z.output<(typeof recomputeCalls)['calibration.differences']['response']>;
type Crossings = Differences['crossings']['requirement'];

/** Places of the 5, 50 and 95 % quantiles among the ratios. */
const [LOW, MIDDLE, HIGH] = [0, 2, 4];

/** What a recompute changed over all, in sentences. Results are those of visits, and a pole may have several. */
export function tellDifferences({
  calibration,
  recomputed,
  poles,
  crossings,
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

function tellCrossings({ nowBelow, polesNowBelow, nowAbove, polesNowAbove }: Crossings): string {
  return `${nameVisits(nowBelow, polesNowBelow)} now below, ${nameVisits(nowAbove, polesNowAbove)} now above`;
}

function nameVisits(visits: number, poles: number): string {
  return visits === 0 ? 'no visit' : `${count(visits, 'visit')} to ${count(poles, 'pole')}`;
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? '' : 's'}`;
}
