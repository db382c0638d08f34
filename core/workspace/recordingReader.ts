import { InputError } from '../errors.ts';
import type { ReadRecording } from '../readRecordings.ts';
import { type CalibratedRecording, readCalibrated } from '../recording/index.ts';
import { RecentCache } from './recentCache.ts';
import type { Store } from './store.ts';
import { getVisit, listRecordingsOfVisit } from './visits.repository.ts';
import { withRecordingBytes } from './withRecordingBytes.ts';

/** Decoded recordings kept for the plots: those of one visit, and of the one before. */
const KEPT_RECORDINGS = 8;

export type RecordingReader = {
  /** One recording of a visit, in m/s2. @throws InputError `recording.unknown` */
  readOne(visitId: number, index: number): Promise<CalibratedRecording>;
  /** Every recording of a visit, in the order of its visit file. @throws InputError `visit.unknown` */
  readAll(visitId: number): Promise<ReadRecording[]>;
  /** Takes the recordings of a visit that were decoded as it came in, so that they are not read again. */
  keep(visitId: number, recordings: readonly CalibratedRecording[]): void;
};

/** Reads recordings out of the workspace; the last ones stay decoded in memory. */
export function createRecordingReader({ db }: Store): RecordingReader {
  const decoded = new RecentCache<string, CalibratedRecording>(KEPT_RECORDINGS);

  const keyOf = (visitId: number, index: number) => `${visitId}/${index}`;

  const readAt = (visitId: number, index: number) =>
    decoded.get(keyOf(visitId, index), async () => {
      const { visit } = await getVisit(db, visitId);
      const file = (await listRecordingsOfVisit(db, visitId))[index];
      const entry = visit.recordings[index];
      if (!file || !entry) {
        throw new InputError(
          'recording.unknown',
          `Visit ${visitId} has ${visit.recordings.length} recordings; recording ${index} was asked for, counted from 0.`,
          'Choose one of the recordings of this visit.',
        );
      }
      return withRecordingBytes(db, file.sha256, (bytes) => readCalibrated(bytes, entry, file.fileName));
    });

  return {
    readOne: readAt,
    async readAll(visitId) {
      await getVisit(db, visitId);
      const files = await listRecordingsOfVisit(db, visitId);
      const recordings: ReadRecording[] = [];
      // one after another: each through the memory of the one before
      for (const [index, { sha256 }] of files.entries()) {
        recordings.push({ sha256, recording: await readAt(visitId, index) });
      }
      return recordings;
    },
    keep(visitId, recordings) {
      recordings.forEach((recording, index) => {
        decoded.keep(keyOf(visitId, index), recording);
      });
    },
  };
}
