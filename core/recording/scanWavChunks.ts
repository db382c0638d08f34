import { FormatError } from '../errors.ts';
import type { RecordingWarning } from './recording.ts';

/** Where the two chunks that matter lie in the file, after mending what recorders get wrong. */
export interface WavChunks {
  readonly fmtStart: number;
  readonly fmtBytes: number;
  readonly dataStart: number;
  /** Bytes that are really there, never more than the file holds. */
  readonly dataBytes: number;
  readonly warnings: readonly RecordingWarning[];
}

const RIFF_HEADER_BYTES = 12;
const CHUNK_HEADER_BYTES = 8;
/** Written by recorders that stream and never come back to fill in the size. */
const UNKNOWN_SIZE = 0xffffffff;
const READ_CONTAINERS = ['RIFF', 'RF64', 'BW64'];
/** Chunks seen in practice; used to tell a chunk from a pad byte or from samples. */
const KNOWN_CHUNKS = new Set(
  'fmt |data|LIST|bext|fact|cue |smpl|JUNK|junk|PEAK|PAD |iXML|axml|chna|id3 |ID3 |INFO|inst|plst|_PMX|cart|DISP|FLLR|SAUR|minf|elm1|regn|umid|levl|link|ds64'.split(
    '|',
  ),
);

/** Sizes beyond 32 bits: chunk `ds64` of RF64 and BW64, which stands first and holds what is 0xFFFFFFFF elsewhere. */
interface Ds64 {
  readonly riffBytes: number;
  readonly dataBytes: number;
  /** Of chunks other than `data`, by name. */
  readonly others: ReadonlyMap<string, number>;
}

/** Bytes of `ds64` up to the table: three sizes of 64 bits and the number of entries. */
const DS64_BYTES = 28;
const DS64_ENTRY_BYTES = 12;

/**
 * Finds the `fmt ` and `data` chunks of a RIFF WAVE file, or of an RF64 or BW64 one (EBU Tech 3306, 2009, and
 * Recommendation ITU-R BS.2088, from memory: the same structure with sizes of 64 bits).
 *
 * Packages that read WAV trust the sizes that the file states: a wrong size makes them loop, throw a bare
 * error, or silently return fewer samples. Field recorders lose power and write such files, so sizes are
 * believed here only as far as the bytes bear them out. The position grows with each turn, so any bytes end.
 *
 * @throws FormatError `wav.kind`, `wav.fmt`, `wav.data`
 */
export function scanWavChunks(bytes: Uint8Array, fileName: string): WavChunks {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const readId = (at: number) =>
    String.fromCharCode(bytes[at]!, bytes[at + 1]!, bytes[at + 2]!, bytes[at + 3]!);
  const isKnownChunk = (at: number) =>
    at + CHUNK_HEADER_BYTES <= bytes.length && KNOWN_CHUNKS.has(readId(at));
  refuseOtherContainers(bytes.length >= RIFF_HEADER_BYTES ? readId(0) : '', bytes.length, fileName);
  if (readId(8) !== 'WAVE') {
    throw new FormatError(
      'wav.kind',
      `${fileName}: the RIFF form is "${printable(readId(8))}"; "WAVE" is expected.`,
      'Export the recording as WAV or CSV.',
    );
  }

  const warnings: RecordingWarning[] = [];
  const ds64 = readId(0) === 'RIFF' ? null : readDs64(view, readId);
  const statedRiffBytes = view.getUint32(4, true);
  const riffBytes = statedRiffBytes === UNKNOWN_SIZE && ds64 !== null ? ds64.riffBytes : statedRiffBytes;
  if (riffBytes !== bytes.length - CHUNK_HEADER_BYTES) {
    warnings.push({
      code: 'wav.riff-size',
      message: `The header states ${riffBytes} bytes and the file holds ${bytes.length - CHUNK_HEADER_BYTES}; the file is what counts.`,
    });
  }

  let fmt: { start: number; size: number } | null = null;
  let data: { start: number; size: number } | null = null;
  let at = RIFF_HEADER_BYTES;
  while (at + CHUNK_HEADER_BYTES <= bytes.length) {
    const id = readId(at);
    const stated32 = view.getUint32(at + 4, true);
    const stated =
      stated32 !== UNKNOWN_SIZE || ds64 === null
        ? stated32
        : id === 'data'
          ? ds64.dataBytes
          : (ds64.others.get(id) ?? stated32);
    const start = at + CHUNK_HEADER_BYTES;
    const left = bytes.length - start;
    let size = Math.min(stated, left);
    if (id === 'data' && data === null) {
      const isUnwritten = stated === UNKNOWN_SIZE || (stated === 0 && left > 0 && !isKnownChunk(start));
      if (isUnwritten) {
        size = left;
        warnings.push({
          code: 'wav.data-size',
          message: `The data size was never written (${stated}); all ${left} bytes to the end of the file are taken as samples.`,
        });
      } else if (stated > left) {
        warnings.push({
          code: 'wav.cut-short',
          message: `The data chunk states ${stated} bytes and ${left} are there; the recording is cut short and what is there is used.`,
        });
      }
      data = { start, size };
    } else if (id === 'data') {
      warnings.push({
        code: 'wav.second-data',
        message: `A second data chunk of ${size} bytes is passed over.`,
      });
    } else if (id === 'fmt ' && fmt === null) {
      fmt = { start, size };
    } else if (stated > left) {
      warnings.push({
        code: 'wav.chunk-size',
        message: `Chunk "${printable(id)}" states ${stated} bytes and ${left} are left; nothing is read after it.`,
      });
    }
    const end = start + size;
    // Chunks are padded to even length; some writers forget, and the next chunk then starts on the odd byte.
    at = end + (size % 2 === 1 && !(isKnownChunk(end) && !isKnownChunk(end + 1)) ? 1 : 0);
  }

  if (fmt === null || fmt.size < 16) {
    throw new FormatError(
      'wav.fmt',
      `${fileName}: ${fmt === null ? 'chunk "fmt " is missing' : `chunk "fmt " has ${fmt.size} bytes`}; 16 bytes or more are expected.`,
      'The header of the file is damaged; use another copy or export it again.',
    );
  }
  if (data === null) {
    throw new FormatError(
      'wav.data',
      `${fileName}: chunk "data" is missing, so the file holds no samples.`,
      'The recorder was stopped before anything was written; use another copy or record again.',
    );
  }
  return { fmtStart: fmt.start, fmtBytes: fmt.size, dataStart: data.start, dataBytes: data.size, warnings };
}

/** Reads `ds64` where it stands first, as it must; null where it does not or is cut short. */
function readDs64(view: DataView, readId: (at: number) => string): Ds64 | null {
  const start = RIFF_HEADER_BYTES + CHUNK_HEADER_BYTES;
  if (view.byteLength < start + DS64_BYTES || readId(RIFF_HEADER_BYTES) !== 'ds64') return null;
  const readSize = (at: number) => view.getUint32(at, true) + view.getUint32(at + 4, true) * 2 ** 32;
  const others = new Map<string, number>();
  const end = Math.min(view.byteLength, start + view.getUint32(RIFF_HEADER_BYTES + 4, true));
  const entries = view.getUint32(start + 24, true);
  for (let i = 0, at = start + DS64_BYTES; i < entries && at + DS64_ENTRY_BYTES <= end; i++) {
    others.set(readId(at), readSize(at + 4));
    at += DS64_ENTRY_BYTES;
  }
  return { riffBytes: readSize(start), dataBytes: readSize(start + 8), others };
}

function refuseOtherContainers(id: string, fileBytes: number, fileName: string): void {
  if (READ_CONTAINERS.includes(id)) return;
  const reason =
    id === 'RIFX'
      ? 'the container is RIFX (big-endian WAV), which is not read'
      : `the file has ${fileBytes} bytes and begins with "${printable(id)}"; "RIFF" and 12 bytes or more are expected`;
  throw new FormatError(
    'wav.kind',
    `${fileName}: ${reason}.`,
    'Export the recording as WAV (RIFF, RF64 or BW64, little-endian) or as CSV.',
  );
}

function printable(id: string): string {
  return id.replace(/[^ -~]/g, '?');
}
