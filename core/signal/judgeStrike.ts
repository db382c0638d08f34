import type { CalibratedRecording } from '../recording/index.ts';
import { type Check, type CheckId, pickWorst, type Verdict } from './checks/check.ts';
import { checkClipping } from './checks/checkClipping.ts';
import { checkCorner } from './checks/checkCorner.ts';
import { checkCutShort } from './checks/checkCutShort.ts';
import { checkDoubleBlow } from './checks/checkDoubleBlow.ts';
import { checkLowBand } from './checks/checkLowBand.ts';
import { checkMainsHum } from './checks/checkMainsHum.ts';
import { checkNoise } from './checks/checkNoise.ts';
import { checkOffset } from './checks/checkOffset.ts';
import { checkRattle } from './checks/checkRattle.ts';
import { checkWeakPlane } from './checks/checkWeakPlane.ts';
import { type Evidence, gatherEvidence } from './checks/evidence.ts';
import type { Strike } from './strike.ts';

/** A strike with the outcome of every check; the verdict is that of the worst. */
export interface StrikeJudgement {
  readonly strike: Strike;
  readonly verdict: Verdict;
  readonly checks: readonly Check[];
}

const STRIKE_CHECKS: readonly ((evidence: Evidence) => Check)[] = [
  checkClipping,
  checkDoubleBlow,
  checkNoise,
  checkCutShort,
  checkLowBand,
  checkWeakPlane,
  checkMainsHum,
  checkRattle,
  checkOffset,
  checkCorner,
];

/**
 * Judges one strike by all checks.
 * @param strike - found in this recording by `findStrikes`
 */
export function judgeStrike(recording: CalibratedRecording, strike: Strike): StrikeJudgement {
  return judgeEvidence(gatherEvidence(recording, [strike])[0]!);
}

/** Judges a strike whose evidence is at hand; see {@link judgeStrike}. */
export function judgeEvidence(evidence: Evidence): StrikeJudgement {
  const judged = STRIKE_CHECKS.map((check) => check(evidence));
  const checks = judged.map((check) => (check.id === 'double-blow' ? doubtDoubleBlow(check, judged) : check));
  return { strike: evidence.strike, verdict: pickWorst(checks.map((check) => check.verdict)), checks };
}

/**
 * The edges of a clipped blow and loud noise look like further impacts: neither teaches anything about the hand that struck.
 * A clipped or drowned strike is to be repeated for what it is; in doubtful noise a double blow is doubtful too.
 */
function doubtDoubleBlow(check: Check, judged: readonly Check[]): Check {
  const verdictOf = (id: CheckId) => judged.find((other) => other.id === id)?.verdict;
  const cause =
    verdictOf('clipping') === 'repeat'
      ? 'clipped'
      : verdictOf('noise') === 'repeat'
        ? 'drowned in noise'
        : null;
  if (check.verdict === 'use') return check;
  if (cause !== null) {
    return {
      ...check,
      value: null,
      verdict: 'use',
      text: `Not judged: the strike is ${cause}, which looks like further impacts.`,
      advice: '',
    };
  }
  return check.verdict === 'repeat' && verdictOf('noise') === 'use with care'
    ? { ...check, verdict: 'use with care' }
    : check;
}
