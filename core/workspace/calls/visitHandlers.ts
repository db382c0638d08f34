import { findLatestAssessment } from '../assessments.repository.ts';
import { createStoredAssessor } from '../assessStored.ts';
import type { visitCalls } from '../contract/visitCalls.ts';
import type { Bench } from '../contract.ts';
import type { HandlersOf } from '../handlers.ts';
import type { RecordingReader } from '../recordingReader.ts';
import { roundForTransport } from '../roundForTransport.ts';
import { listRulingsOfVisit } from '../rulings.repository.ts';
import type { Store } from '../store.ts';
import { viewStabilisation } from '../viewStabilisation.ts';
import { getVisit } from '../visits.repository.ts';

export function createVisitHandlers(store: Store, reader: RecordingReader): HandlersOf<typeof visitCalls> {
  const { db } = store;
  const assessor = createStoredAssessor(store);

  const openVisit = async (visitId: number): Promise<Bench> => {
    const { visit } = await getVisit(db, visitId);
    const recordings = await reader.readAll(visitId);
    const latest = await findLatestAssessment(db, visitId);
    const failed = latest && 'error' in latest.result ? latest.result.error : null;
    return {
      visitId,
      visit,
      recordings: recordings.map(({ sha256, recording }, index) => ({
        index,
        file: recording.fileName,
        sha256,
        exciter: recording.exciter,
        sampleRateHz: recording.sampleRateHz,
        durationS: recording.frames / recording.sampleRateHz,
        azimuthsDeg: recording.channels.map((channel) => channel.azimuthDeg),
        warnings: recording.warnings.map((warning) => warning.message),
      })),
      decisions: latest?.decisions ?? [],
      assessmentId: latest?.assessmentId ?? null,
      assessment: latest && !('error' in latest.result) ? latest.result : null,
      failure: failed,
      picture: latest?.picture ?? null,
      rulings: await listRulingsOfVisit(db, visitId),
    };
  };

  return {
    'visit.open': ({ visitId }) => openVisit(visitId),
    'visit.tryPicks': ({ visitId, decisions }) => assessor.tryPicks(visitId, decisions),
    'visit.assess': ({ visitId, decisions, unlessThere }) =>
      assessor.assess(visitId, decisions, { unlessThere: unlessThere ?? false }),
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
