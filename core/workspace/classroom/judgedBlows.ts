import { type FaultId, faultIdSchema } from '../../classroom/index.ts';
import { InputError } from '../../errors.ts';
import { type Check, judgeVisit, type StrikeJudgement } from '../../signal/index.ts';
import type { CallResponse } from '../contract.ts';
import { RecentCache } from '../recentCache.ts';
import type { RecordingReader } from '../recordingReader.ts';
import type { Store } from '../store.ts';
import { getVisit } from '../visits.repository.ts';

/** One blow as the window is told of it. */
export type Blow = CallResponse<'classroom.findBlows'>['blows'][number];

/** A blow with what its pictures and its grading need. */
export type JudgedBlow = {
  readonly blow: Blow;
  readonly strike: StrikeJudgement['strike'];
  /** Index among the strikes of its recording. */
  readonly index: number;
  /** Those of the strike, and how the strikes by its exciter agree. */
  readonly checks: readonly Check[];
};

export type JudgedBlows = {
  /** Every blow of a visit, in the order of its recordings. */
  ofVisit(visitId: number): Promise<readonly JudgedBlow[]>;
  /** The blow of a recording that starts at a time. @throws InputError `classroom.blow` */
  at(place: { visitId: number; recording: number; startS: number }): Promise<JudgedBlow>;
};

/** Without their samples: some kilobytes a visit. */
const KEPT_VISITS = 300;
/** An onset found by another version of the program lies within this of the one that a lesson names. */
const SAME_ONSET_S = 0.1;

/** Judges the blows of stored visits by the checks of this program, and keeps the outcomes of the last visits. */
export function createJudgedBlows({ db }: Store, reader: RecordingReader): JudgedBlows {
  const kept = new RecentCache<number, readonly JudgedBlow[]>(KEPT_VISITS);

  const ofVisit = (visitId: number) =>
    kept.get(visitId, async () => {
      const { visit } = await getVisit(db, visitId);
      const stored = await reader.readAll(visitId);
      const judged = judgeVisit(stored.map(({ recording }) => recording));
      const agreement = new Map(judged.repeatability.map(({ exciter, check }) => [exciter, check]));
      return stored.flatMap(({ sha256, recording }, r) =>
        judged.recordings[r]!.strikes.map((judgement, index): JudgedBlow => {
          const { strike, verdict } = judgement;
          const agrees = agreement.get(recording.exciter);
          const checks = verdict === 'repeat' || !agrees ? judgement.checks : [...judgement.checks, agrees];
          return {
            strike,
            index,
            checks,
            blow: {
              visitId,
              poleId: visit.pole.id,
              visitDate: visit.measured.date,
              recording: r,
              recordingFile: recording.fileName,
              recordingSha256: sha256,
              exciter: recording.exciter,
              startS: strike.startS,
              durationS: strike.endS - strike.startS,
              verdict,
              faults: listFaults(checks),
            },
          };
        }),
      );
    });

  return {
    ofVisit,
    async at({ visitId, recording, startS }) {
      const found = findByOnset(
        (await ofVisit(visitId)).filter(({ blow }) => blow.recording === recording),
        startS,
      );
      if (found) return found;
      throw new InputError(
        'classroom.blow',
        `Recording ${recording} of visit ${visitId} has no blow at ${startS.toFixed(2)} s.`,
        'Look for the blow again in the classroom; the program may have been updated since.',
      );
    },
  };
}

/** The blow whose onset is nearest to a time, if it is the same one. */
export function findByOnset(blows: readonly JudgedBlow[], startS: number): JudgedBlow | null {
  const distance = ({ blow }: JudgedBlow) => Math.abs(blow.startS - startS);
  const nearest = blows.toSorted((a, b) => distance(a) - distance(b))[0];
  return nearest && distance(nearest) <= SAME_ONSET_S ? nearest : null;
}

/** Faults that the checks found. */
function listFaults(checks: readonly Check[]): FaultId[] {
  return checks.filter(({ verdict }) => verdict !== 'use').map(({ id }) => faultIdSchema.parse(id));
}
