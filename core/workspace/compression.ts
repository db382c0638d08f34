import {
  brotliCompressSync,
  brotliDecompressSync,
  constants,
  zstdCompressSync,
  zstdDecompressSync,
} from 'node:zlib';
import { RECORDING_LIMITS } from '../recording/index.ts';

/** Texts shrink little beyond this quality. */
const QUALITY = 2;
/** Samples shrink little beyond this level of Zstandard: 1.5 % at level 3 for twice the time, 3 to 7 % up to level 9; measured. */
const LEVEL = 2;

/** How a recording is packed in a store: by Brotli (RFC 7932) up to form 5, by Zstandard (RFC 8878) since, which unfolds in a quarter of the time. */
export type RecordingEncoding = 'brotli' | 'zstd';

/** Compresses a text, or its bytes, by Brotli, for keeping in the workspace. */
export function compressBrotli(text: Uint8Array | string): Buffer {
  const bytes = typeof text === 'string' ? Buffer.from(text) : text;
  return brotliCompressSync(bytes, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: QUALITY,
      [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    },
  });
}

/**
 * Undoes {@link compressBrotli}, and stops where more comes out than there can be: a few bytes may be written so as to unfold
 * into thousands of millions. @returns undefined where the bytes are no Brotli, or unfold into more than `mostBytes`
 */
export function decompressBrotli(compressed: Uint8Array, mostBytes: number): Buffer | undefined {
  try {
    return brotliDecompressSync(compressed, { maxOutputLength: mostBytes });
  } catch {
    return undefined;
  }
}

/** Packs the bytes of a recording for the store. */
export function packRecording(bytes: Uint8Array): { encoding: RecordingEncoding; compressed_bytes: Buffer } {
  const compressed_bytes = zstdCompressSync(bytes, {
    params: { [constants.ZSTD_c_compressionLevel]: LEVEL },
  });
  return { encoding: 'zstd', compressed_bytes };
}

/** A recording as a store keeps it. */
export type PackedRecording = {
  readonly encoding: RecordingEncoding;
  readonly compressed_bytes: Uint8Array;
  readonly size_bytes: number;
};

/** The bytes of a stored recording; undefined where they do not unfold, or into more than were stored. */
export function unpackRecording({
  encoding,
  compressed_bytes,
  size_bytes,
}: PackedRecording): Buffer | undefined {
  const mostBytes = Math.min(size_bytes, RECORDING_LIMITS.largestFileBytes);
  if (encoding === 'brotli') return decompressBrotli(compressed_bytes, mostBytes);
  try {
    // in one piece: otherwise it is collected in small ones, which are copied together at the end
    const chunkSize = Math.max(mostBytes, constants.Z_MIN_CHUNK);
    return zstdDecompressSync(compressed_bytes, { maxOutputLength: mostBytes, chunkSize });
  } catch {
    return undefined;
  }
}
