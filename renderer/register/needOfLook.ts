import type { RegisterRow } from '../types.ts';

/** How much a visit waits for a person, and the words that say why. Higher is sooner. */
export type Need = { score: number; because: string };

/** A chance between these is decided neither way. */
const DOUBTFUL_CHANCE = [0.05, 0.95] as const;

const SCORES = {
  failed: 60,
  withheld: 50,
  'not assessed': 40,
  doubtful: 30,
  below: 45,
  finding: 10,
  notSeparated: 8,
} as const;

/** A ruling settles a visit: it stays in the register below all that wait. */
const RULED_SCORE = -100;

/**
 * Orders by what is shown in the row, nothing else: failed and withheld visits first, then capacities below
 * the requirement, then intervals that cross it, then findings and stems that could not be told from roots.
 */
export function needOfLook(row: RegisterRow): Need {
  const reasons: string[] = [];
  let score = 0;
  const add = (points: number, reason: string) => {
    score += points;
    reasons.push(reason);
  };
  if (row.verdict === 'failed') add(SCORES.failed, 'failed');
  if (row.verdict === 'withheld') add(SCORES.withheld, 'result withheld');
  if (row.verdict === 'not assessed') add(SCORES['not assessed'], 'not assessed');
  if (row.chanceBelow !== null) {
    if (row.chanceBelow >= DOUBTFUL_CHANCE[1]) add(SCORES.below, 'below requirement');
    else if (row.chanceBelow > DOUBTFUL_CHANCE[0]) {
      add(SCORES.doubtful + SCORES.finding * row.chanceBelow, 'crosses requirement');
    }
  }
  if (row.findings.length > 0) add(SCORES.finding * row.findings.length, countFindings(row.findings.length));
  if (row.identifiability === 'not separated') add(SCORES.notSeparated, 'root not told from stem');
  if (row.ruling) return { score: score + RULED_SCORE, because: 'ruled' };
  return { score, because: reasons[0] ?? 'nothing odd' };
}

function countFindings(count: number): string {
  return count === 1 ? '1 finding' : `${count} findings`;
}
