import { InputError } from './errors.ts';
import { hashSha256 } from './hashSha256.ts';
import {
  type CalibratedRecording,
  type RecordingEntry,
  readCalibrated,
  type VisitFile,
} from './recording/index.ts';

/** A visit with the bytes of its recordings, by file name. */
export type VisitInput = {
  readonly visitName: string;
  readonly visit: VisitFile;
  readonly recordings: ReadonlyMap<string, Uint8Array>;
};

/** A recording of a visit, decoded, and the hash of its file. */
export type ReadRecording = { readonly sha256: string; readonly recording: CalibratedRecording };

/** A visit whose recordings are read, in the order of its visit file. */
export type ReadVisit = Pick<VisitInput, 'visitName' | 'visit'> & {
  readonly recordings: readonly ReadRecording[];
};

/**
 * Reads the recordings of a visit, calibrated, in its order.
 * @throws InputError, FormatError of the reading rooms; InputError `visit.recording` for a file that is not there
 */
export function readRecordings(input: VisitInput): ReadRecording[] {
  return input.visit.recordings.map((entry) => readEntry(input, entry));
}

function readEntry(input: VisitInput, entry: RecordingEntry): ReadRecording {
  const bytes = input.recordings.get(entry.file);
  if (!bytes) {
    throw new InputError(
      'visit.recording',
      `${input.visitName}, field recordings.file: "${entry.file}" is not there.`,
      'Put the recording into the folder of the visit file, or correct its name.',
    );
  }
  const recording = readCalibrated(bytes, entry, entry.file);
  return { sha256: hashSha256(bytes), recording };
}
