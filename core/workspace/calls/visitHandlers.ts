import { InputError } from '../../errors.ts';
import type { VisitFile } from '../../recording/index.ts';
import { renderReport } from '../../report/index.ts';
import { findLatestAssessment } from '../assessments.repository.ts';
import { createStoredAssessor } from '../assessStored.ts';
import type { visitCalls } from '../contract/visitCalls.ts';
import type { Bench, CallResponse } from '../contract.ts';
import { gatherReport } from '../gatherReport.ts';
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

  const printVisit = async (visitId: number): Promise<CallResponse<'visit.report'>> => {
    const { visit } = await getVisit(db, visitId);
    const latest = await findLatestAssessment(db, visitId);
    if (!latest) {
      throw new InputError(
        'report.notAssessed',
        `The visit to pole ${visit.pole.id} of ${visit.measured.date} is not assessed, so there is no report yet.`,
        'Assess the visit first.',
      );
    }
    const subject = {
      ...latest,
      visit,
      rulings: await listRulingsOfVisit(db, visitId),
      recordings: await reader.readAll(visitId),
    };
    return {
      fileName: nameReport(visit),
      html: renderReport(gatherReport(subject, new Date().toISOString())),
    };
  };

  return {
    'visit.open': ({ visitId }) => openVisit(visitId),
    'visit.tryPicks': ({ visitId, decisions }) => assessor.tryPicks(visitId, decisions),
    'visit.assess': ({ visitId, decisions }) => assessor.assess(visitId, decisions),
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
    'visit.stabilisation': async ({ visitId }) => viewStabilisation(await assessor.analyse(visitId)),
    'visit.report': ({ visitId }) => printVisit(visitId),
  };
}

/** A name that every file system takes. */
function nameReport({ pole, measured }: VisitFile): string {
  return `report-${pole.id.replaceAll(/[^A-Za-z0-9_-]+/g, '-')}-${measured.date}.html`;
}
