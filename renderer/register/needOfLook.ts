import type { RegisterRow } from '../types.ts';

/** How much a visit waits for a person, and the words that say why. Higher is sooner. */
export type Need = { score: number; because: string };

/** A chance between these is decided neither way. */
const DOUBTFUL_CHANCE = [0.05, 0.95] as const;

/** Of the kind of visit; what is added within a kind stays below the step to the next. */
const SCORES = { failed: 400, withheld: 300, chance: 200, 'not assessed': 100, rest: 0 } as const;
const SCORE_OF_CHANCE = 99;
const SCORE_OF_FINDING = 10;
const SCORE_NOT_SEPARATED = 8;
const LARGEST_ADDED = 99;

/** A ruling settles a visit: it stays in the register below all that wait. */
const RULED_SCORE = -1000;

/** Holds for nearly every pole, so it sets none apart. */
const COMMON_FINDING = 'section-not-inspected';

/**
 * Orders by what is shown in the row, nothing else: failed and withheld visits first, then by the chance that capacity
 * is below the requirement where it is not small, then visits not assessed, then by findings and by stems that could
 * not be told from roots.
 */
export function needOfLook(row: RegisterRow): Need {
  const { score, because } = needUnruled(row);
  return row.ruling ? { score: score + RULED_SCORE, because: 'ruled' } : { score, because };
}

function needUnruled({ verdict, chanceBelow, findings, identifiability }: RegisterRow): Need {
  const odd = findings.filter((finding) => finding.id !== COMMON_FINDING).length;
  const isMixed = identifiability === 'not separated';
  const added = Math.min(SCORE_OF_FINDING * odd + (isMixed ? SCORE_NOT_SEPARATED : 0), LARGEST_ADDED);
  if (verdict === 'failed') return { score: SCORES.failed + added, because: 'failed' };
  if (verdict === 'withheld') return { score: SCORES.withheld + added, because: 'result withheld' };
  if (chanceBelow !== null && chanceBelow > DOUBTFUL_CHANCE[0]) {
    return {
      score: SCORES.chance + SCORE_OF_CHANCE * chanceBelow,
      because: chanceBelow >= DOUBTFUL_CHANCE[1] ? 'below requirement' : 'crosses requirement',
    };
  }
  if (verdict === 'not assessed') return { score: SCORES['not assessed'] + added, because: 'not assessed' };
  if (odd > 0) return { score: SCORES.rest + added, because: odd === 1 ? '1 finding' : `${odd} findings` };
  return { score: SCORES.rest + added, because: isMixed ? 'root not told from stem' : 'nothing odd' };
}
