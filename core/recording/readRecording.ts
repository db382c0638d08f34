import { FormatError } from '../errors.ts';
import { readCsv } from './readCsv.ts';
import { readWav } from './readWav.ts';
import { RECORDING_LIMITS, type Recording } from './recording.ts';
import { readUffRecording } from './uffRecording.ts';

const WAV_CONTAINERS = ['RIFF', 'RIFX', 'RF64', 'BW64'];
/** Text has no zero bytes; binary files of any kind soon have one. */
const SNIFFED_BYTES = 4096;
const WAV_NAME = /\.wave?$/i;
/** First line of a universal file of modal testing: a -1 in columns 5 and 6, and blanks up to 80 with some. */
const UNIVERSAL_FILE = /^ {4}-1\s/;

/**
 * Reads a recording, WAV, CSV or UFF dataset 58, told apart by what is in it and not by its name.
 * @param bytes - the whole file
 * @param fileName - named in errors
 * @throws FormatError naming the file, the field, its value and the remedy; nothing else, whatever the bytes
 */
export function readRecording(bytes: Uint8Array, fileName: string): Recording {
  if (bytes.length > RECORDING_LIMITS.largestFileBytes) {
    throw new FormatError(
      'recording.size',
      `${fileName} has ${bytes.length} bytes; at most ${RECORDING_LIMITS.largestFileBytes} are read.`,
      'Cut the file into shorter ones around the strikes.',
    );
  }
  const start = String.fromCharCode(...bytes.subarray(0, 16));
  if (WAV_CONTAINERS.includes(start.slice(0, 4))) return readWav(bytes, fileName);
  if (UNIVERSAL_FILE.test(start)) return readUffRecording(bytes, fileName);
  const isUtf16 = bytes[0] === 0xff || bytes[0] === 0xfe;
  if (bytes.length > 0 && (isUtf16 || !bytes.subarray(0, SNIFFED_BYTES).includes(0)))
    return readText(bytes, fileName);
  throw new FormatError(
    'recording.kind',
    `${fileName} is ${bytes.length === 0 ? 'empty' : 'neither WAV, UFF nor text'}; a WAV, CSV or UFF recording is expected.`,
    'Export the recording as WAV, CSV or UFF dataset 58.',
  );
}

/** A CSV recording. What is named as WAV and is no recording of any kind is told of as no WAV, and not by rules of CSV. */
function readText(bytes: Uint8Array, fileName: string): Recording {
  try {
    return readCsv(bytes, fileName);
  } catch (error) {
    if (!(error instanceof FormatError) || !WAV_NAME.test(fileName)) throw error;
    throw new FormatError(
      'recording.notWav',
      `${fileName} is no WAV file, though it is named so: it holds text, where a WAV begins with "RIFF".`,
      'Copy the recording again from the recorder, or export it as WAV; a CSV recording is named .csv.',
    );
  }
}
