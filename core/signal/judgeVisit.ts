import type { CalibratedRecording } from '../recording/index.ts';
import type { Check } from './checks/check.ts';
import { checkRepeatability } from './checks/checkRepeatability.ts';
import { gatherEvidence } from './checks/evidence.ts';
import { findStrikes } from './findStrikes.ts';
import { judgeEvidence, type StrikeJudgement } from './judgeStrike.ts';

/** All strikes of a visit, and how the strikes by one exciter agree. */
export interface VisitJudgement {
  readonly recordings: readonly { readonly fileName: string; readonly strikes: readonly StrikeJudgement[] }[];
  /** One check a kind of exciter, in the order in which the recordings name them. */
  readonly repeatability: readonly { readonly exciter: string; readonly check: Check }[];
}

/**
 * Finds and judges all strikes of a visit, and compares those by the same exciter with one another. Strikes
 * to be repeated are left out of the comparison.
 */
export function judgeVisit(recordings: readonly CalibratedRecording[]): VisitJudgement {
  const found = recordings.map((recording) => {
    const strikes = findStrikes(
      recording.channels.map((channel) => channel.samplesMPerS2),
      recording.sampleRateHz,
    );
    const evidence = gatherEvidence(recording, strikes);
    return { recording, evidence, judgements: evidence.map(judgeEvidence) };
  });
  const exciters = [...new Set(recordings.map((recording) => recording.exciter))];
  return {
    recordings: found.map(({ recording, judgements }) => ({
      fileName: recording.fileName,
      strikes: judgements,
    })),
    repeatability: exciters.map((exciter) => {
      const usable = found
        .filter(({ recording }) => recording.exciter === exciter)
        .flatMap(({ evidence, judgements }) =>
          evidence.filter((_, i) => judgements[i]!.verdict !== 'repeat'),
        );
      return { exciter, check: checkRepeatability(usable, exciter) };
    }),
  };
}
