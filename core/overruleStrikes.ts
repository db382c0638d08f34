import type { StrikeDecision } from './decisions.ts';
import { InputError } from './errors.ts';
import type { CalibratedRecording } from './recording/index.ts';
import type { StrikeJudgement, VisitJudgement } from './signal/index.ts';

/** What an analyst decided about one strike; the last word counts. */
export function findOverrule(
  decisions: readonly StrikeDecision[],
  recording: string,
  strike: number,
): StrikeDecision | undefined {
  return decisions.findLast((decision) => decision.recording === recording && decision.strike === strike);
}

/** Whether a strike counts: as its checks say, unless an analyst said otherwise. */
export function isUsed(verdict: StrikeJudgement['verdict'], overrule: StrikeDecision | undefined): boolean {
  return overrule?.use ?? verdict !== 'repeat';
}

/** @throws InputError `strike.unknown` for a decision on a strike that the recordings do not have */
export function refuseUnknownStrikes(
  decisions: readonly StrikeDecision[],
  recordings: readonly CalibratedRecording[],
  judgement: VisitJudgement,
): void {
  for (const { recording, strike } of decisions) {
    const at = recordings.findIndex(({ fileName }) => fileName === recording);
    const found = at < 0 ? 0 : judgement.recordings[at]!.strikes.length;
    if (strike < found) continue;
    throw new InputError(
      'strike.unknown',
      at < 0
        ? `A decision is about a strike of "${recording}", and the visit has no such recording.`
        : `A decision is about strike ${strike + 1} of ${recording}, which has ${found} strikes.`,
      'Take the decision back; strikes are counted anew where a recording or its limits changed.',
    );
  }
}
