import { basename } from 'node:path';
import type { z } from 'zod';
import { CAUTIONS } from '../cautions.ts';
import { InputError } from '../errors.ts';
import { PROGRAM } from '../program.ts';
import { type CalibratedRecording, calibrateChannels, readRecording } from '../recording/index.ts';
import { findLatestAssessment, listRegister } from './assessments.repository.ts';
import { createStoredAssessor } from './assessStored.ts';
import type { Bench, CallName, CallResponse, contract, RegisterRow } from './contract.ts';
import { importUploads } from './importUploads.ts';
import { RecentCache } from './recentCache.ts';
import { insertRuling, listRulings } from './rulings.repository.ts';
import type { Store } from './store.ts';
import { toStoreError } from './storeErrors.ts';
import { NOT_ASSESSED } from './summarise.ts';
import { viewSpectrogram } from './viewSpectrogram.ts';
import { viewSpectrum } from './viewSpectrum.ts';
import { viewWaveform } from './viewWaveform.ts';
import { decodeVisitFile, getRecordingBytes, getVisit, listRecordingsOfVisit } from './visits.repository.ts';

export type Handlers = {
  [N in CallName]: (
    request: z.output<(typeof contract)[N]['request']>,
  ) => CallResponse<N> | Promise<CallResponse<N>>;
};

/** Decoded recordings kept for the plots: those of one visit, and the one before. */
const KEPT_RECORDINGS = 8;

/** Builds the handler of every call of the contract over one workspace. */
export function createWorkspaceService(store: Store): Handlers {
  const { db } = store;
  const assessor = createStoredAssessor(store);
  const decoded = new RecentCache<string, CalibratedRecording>(KEPT_RECORDINGS);

  const decodeRecordings = async (visitId: number) => {
    const { visit } = await getVisit(db, visitId);
    const files = await listRecordingsOfVisit(db, visitId);
    return {
      files,
      at: (index: number): Promise<CalibratedRecording> => {
        const file = files[index];
        const entry = visit.recordings[index];
        if (!file || !entry) {
          throw new InputError(
            'recording.unknown',
            `Visit ${visitId} has ${files.length} recordings; recording ${index} was asked for, counted from 0.`,
            'Choose one of the recordings of this visit.',
          );
        }
        return decoded.get(`${visitId}/${index}`, async () =>
          calibrateChannels(
            readRecording(await getRecordingBytes(db, file.sha256), file.fileName),
            entry,
            file.fileName,
          ),
        );
      },
    };
  };
  const decodeRecording = async (visitId: number, index: number) =>
    (await decodeRecordings(visitId)).at(index);

  const openVisit = async (visitId: number): Promise<Bench> => {
    const { visit } = await getVisit(db, visitId);
    const { files, at } = await decodeRecordings(visitId);
    const recordings = await Promise.all(
      files.map(async ({ fileName, sha256 }, index) => {
        const { sampleRateHz, frames, exciter, channels, warnings } = await at(index);
        return {
          index,
          file: fileName,
          sha256,
          exciter,
          sampleRateHz,
          durationS: frames / sampleRateHz,
          azimuthsDeg: channels.map((channel) => channel.azimuthDeg),
          warnings: warnings.map((warning) => warning.message),
        };
      }),
    );
    const latest = await findLatestAssessment(db, visitId);
    const failed = latest && 'error' in latest.result ? latest.result.error : null;
    return {
      visitId,
      visit,
      recordings,
      decisions: latest?.decisions ?? [],
      assessmentId: latest?.assessmentId ?? null,
      assessment: latest && !('error' in latest.result) ? latest.result : null,
      failure: failed,
      picture: latest?.picture ?? null,
      rulings: (await listRulings(db, visitId)).get(visitId) ?? [],
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
    'visit.rule': async ({ visitId, analyst, decision, reason }) => {
      await getVisit(db, visitId);
      const latest = await findLatestAssessment(db, visitId);
      const decidedAt = new Date().toISOString();
      const assessmentId = latest?.assessmentId ?? null;
      return insertRuling(db, visitId, { decidedAt, analyst, decision, reason, assessmentId });
    },
    'visit.report': () => {
      throw new InputError('report.unknown', 'Reports are not built yet.', 'Wait for the next version.');
    },
    'recording.waveform': async ({ visitId, recording, fromS, toS, columns }) =>
      viewWaveform(await decodeRecording(visitId, recording), {
        columns,
        ...(fromS !== undefined && { fromS }),
        ...(toS !== undefined && { toS }),
      }),
    'recording.spectrum': async ({ visitId, recording, ...view }) =>
      viewSpectrum(await decodeRecording(visitId, recording), view),
    'recording.spectrogram': async ({ visitId, recording, ...view }) =>
      viewSpectrogram(await decodeRecording(visitId, recording), view),
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
