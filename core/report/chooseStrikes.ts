import type { AssessedStrike } from '../assessment.ts';

/** Place of a strike: its recording, and its index among the strikes of that recording. */
type StrikePlace = { readonly recording: string; readonly strike: number };

/** Best first. */
const VERDICT_ORDER: readonly AssessedStrike['verdict'][] = ['use', 'use with care', 'repeat'];

/**
 * The strike of each recording whose spectrum the report draws: the first among those with the best verdict.
 * @param strikes - all of a visit, those of one recording in order of time
 */
export function chooseStrikes(strikes: readonly AssessedStrike[]): StrikePlace[] {
  return [...new Set(strikes.map((strike) => strike.recording))].map((recording) => {
    const verdicts = strikes
      .filter((strike) => strike.recording === recording)
      .map((strike) => VERDICT_ORDER.indexOf(strike.verdict));
    return { recording, strike: verdicts.indexOf(Math.min(...verdicts)) };
  });
}
