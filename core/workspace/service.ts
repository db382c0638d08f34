import { basename } from 'node:path';
import type { z } from 'zod';
import { CAUTIONS } from '../cautions.ts';
import { InputError } from '../errors.ts';
import { PROGRAM } from '../program.ts';
import type { VisitFile } from '../recording/index.ts';
import { renderReport } from '../report/index.ts';
import { findLatestAssessment, listRegister } from './assessments.repository.ts';
import { createStoredAssessor } from './assessStored.ts';
import type { Bench, CallName, CallResponse, contract, RegisterRow } from './contract.ts';
import { gatherReport } from './gatherReport.ts';
import { importUploads } from './importUploads.ts';
import { createRecordingReader } from './recordingReader.ts';
import { roundForTransport } from './roundForTransport.ts';
import { insertRuling, listRulings } from './rulings.repository.ts';
import type { Store } from './store.ts';
import { toStoreError } from './storeErrors.ts';
import { NOT_ASSESSED } from './summarise.ts';
import { viewSpectrogram } from './viewSpectrogram.ts';
import { viewSpectrum } from './viewSpectrum.ts';
import { viewStabilisation } from './viewStabilisation.ts';
import { viewWaveform } from './viewWaveform.ts';
import { decodeVisitFile, getVisit } from './visits.repository.ts';

export type Handlers = {
  [N in CallName]: (
    request: z.output<(typeof contract)[N]['request']>,
  ) => CallResponse<N> | Promise<CallResponse<N>>;
};

/** Builds the handler of every call of the contract over one workspace. */
export function createWorkspaceService(store: Store): Handlers {
  const { db } = store;
  const assessor = createStoredAssessor(store);
  const reader = createRecordingReader(store);

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
      rulings: (await listRulings(db, visitId)).get(visitId) ?? [],
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
      rulings: (await listRulings(db, visitId)).get(visitId) ?? [],
      recordings: await reader.readAll(visitId),
    };
    return {
      fileName: nameReport(visit),
      html: renderReport(gatherReport(subject, new Date().toISOString())),
    };
  };

  const handlers: Handlers = {
    'workspace.describe': async () => {
      const register = await listRegister(db);
      return {
        name: basename(store.path, '.stemroot'),
        program: PROGRAM,
        visits: register.length,
        poles: new Set(register.map((entry) => entry.poleCode)).size,
        notAssessed: register.filter((entry) => entry.summary === null).length,
        cautions: [...CAUTIONS],
      };
    },
    'register.list': async () => {
      const rulings = await listRulings(db);
      const rows = (await listRegister(db)).map((entry): RegisterRow => {
        const { pole, measured } = decodeVisitFile(entry.fileBytes, entry.fileName);
        return {
          visitId: entry.visitId,
          poleId: pole.id,
          species: pole.species,
          classCode: pole.classCode ?? null,
          lengthM: pole.lengthM,
          date: measured.date,
          ...(entry.summary ?? NOT_ASSESSED),
          ruling: rulings.get(entry.visitId)?.[0] ?? null,
        };
      });
      return { rows };
    },
    'visits.import': async ({ files }) => ({ outcomes: await importUploads(store, files) }),
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
    'visit.rule': async ({ visitId, assessmentId, analyst, decision, reason }) => {
      await getVisit(db, visitId);
      const latest = await findLatestAssessment(db, visitId);
      const decidedAt = new Date().toISOString();
      if (assessmentId !== (latest?.assessmentId ?? null)) {
        throw new InputError(
          'ruling.outdated',
          `The ruling is about assessment ${assessmentId ?? 'none'}; the latest of this visit is ${latest?.assessmentId ?? 'none'}.`,
          'Open the visit again, look at the newer result, and rule on that.',
        );
      }
      return insertRuling(db, visitId, { decidedAt, analyst, decision, reason, assessmentId });
    },
    'visit.report': ({ visitId }) => printVisit(visitId),
    'recording.waveform': async ({ visitId, recording, fromS, toS, columns }) =>
      viewWaveform(await reader.readOne(visitId, recording), {
        columns,
        ...(fromS !== undefined && { fromS }),
        ...(toS !== undefined && { toS }),
      }),
    'recording.spectrum': async ({ visitId, recording, ...view }) =>
      viewSpectrum(await reader.readOne(visitId, recording), view),
    'recording.spectrogram': async ({ visitId, recording, ...view }) =>
      viewSpectrogram(await reader.readOne(visitId, recording), view),
  };
  return withStoreErrors(handlers, store.path);
}

/** Has every handler throw a StoreError that names the workspace where SQLite fails. */
function withStoreErrors(handlers: Handlers, path: string): Handlers {
  const wrapped = Object.entries(handlers).map(([name, handle]) => [
    name,
    async (request: never) => {
      try {
        return await handle(request);
      } catch (error) {
        throw toStoreError(error, path);
      }
    },
  ]);
  return Object.fromEntries(wrapped);
}

/** A name that every file system takes. */
function nameReport({ pole, measured }: VisitFile): string {
  return `report-${pole.id.replaceAll(/[^A-Za-z0-9_-]+/g, '-')}-${measured.date}.html`;
}
