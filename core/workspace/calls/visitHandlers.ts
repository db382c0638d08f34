import { findLatestAssessment } from '../assessments.repository.ts';
import { createStoredAssessor } from '../assessStored.ts';
import type { visitCalls } from '../contract/visitCalls.ts';
import type { Bench } from '../contract.ts';
import type { HandlersOf } from '../handlers.ts';
import type { RecordingReader } from '../recordingReader.ts';
import { readCompared } from '../register/readCompared.ts';
import { roundForTransport } from '../roundForTransport.ts';
import { listRulingsOfVisit } from '../rulings.repository.ts';
import type { Store } from '../store.ts';
import { viewStabilisation } from '../viewStabilisation.ts';
import { getVisit, listRecordingsOfVisit } from '../visits.repository.ts';

export function createVisitHandlers(store: Store, reader: RecordingReader): HandlersOf<typeof visitCalls> {
  const { db } = store;
  const assessor = createStoredAssessor(store, reader);

  const openVisit = async (visitId: number): Promise<Bench> => {
    const { visit } = await getVisit(db, visitId);
    const recordings = await listRecordingsOfVisit(db, visitId);
    const latest = await findLatestAssessment(db, visitId);
    const failed = latest && 'error' in latest.result ? latest.result.error : null;
    return {
      visitId,
      visit,
      recordings: visit.recordings.map(({ exciter, channels }, index) => ({
        index,
        file: recordings[index]!.fileName,
        sha256: recordings[index]!.sha256,
        exciter,
        azimuthsDeg: channels.map((channel) => channel.azimuthDeg),
      })),
      decisions: latest?.decisions ?? [],
      assessmentId: latest?.assessmentId ?? null,
      assessment: latest && !('error' in latest.result) ? latest.result : null,
      compared: await readCompared(db, visitId),
      failure: failed,
      picture: latest?.picture ?? null,
      rulings: await listRulingsOfVisit(db, visitId),
    };
  };

  return {
    'visit.open': ({ visitId }) => openVisit(visitId),
    'visit.recordings': async ({ visitId }) => ({
      readings: (await reader.readAll(visitId)).map(({ recording }) => ({
        sampleRateHz: recording.sampleRateHz,
        durationS: recording.frames / recording.sampleRateHz,
        warnings: recording.warnings.map((warning) => warning.message),
      })),
    }),
    'visit.tryPicks': ({ visitId, decisions }) => assessor.tryPicks(visitId, decisions),
    'visit.assess': ({ visitId, decisions, ...options }) => assessor.assess(visitId, decisions, options),
    'visit.whatIf': async ({ visitId, decisions, change, maximumHz }) => {
      const { frequenciesHz, planes } = await assessor.predictChange(visitId, decisions, change, maximumHz);
      const rounded = (values: readonly number[]) => values.map(roundForTransport);
      return {
        frequenciesHz: rounded(frequenciesHz),
        planes: planes.map((plane) => ({
          azimuthDeg: plane.azimuthDeg,
          fittedHz: rounded(plane.fittedHz),
          changedHz: rounded(plane.changedHz),
          fittedResponse: rounded(plane.fittedResponse),
          changedResponse: rounded(plane.changedResponse),
        })),
      };
    },
    'visit.stabilisation': async ({ visitId, decisions }) =>
      viewStabilisation(await assessor.analyse(visitId, decisions)),
  };
}
