import type { CalibratedRecording } from '../recording/index.ts';
import { type Check, pickWorst, type Verdict } from './checks/check.ts';
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
  return judgeEvidence(gatherEvidence(recording, strike));
}

/** Judges a strike whose evidence is at hand; see {@link judgeStrike}. */
export function judgeEvidence(evidence: Evidence): StrikeJudgement {
  const checks = STRIKE_CHECKS.map((check) => check(evidence));
  return { strike: evidence.strike, verdict: pickWorst(checks.map((check) => check.verdict)), checks };
}
