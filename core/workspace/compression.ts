import {
  brotliCompressSync,
  brotliDecompressSync,
  constants,
  zstdCompressSync,
  zstdDecompressSync,
} from 'node:zlib';

/** Texts shrink little beyond this quality. */
const QUALITY = 2;
/** Samples shrink little beyond this level of Zstandard: 1.5 % at level 3 for twice the time, 3 to 7 % up to level 9; measured. */
const LEVEL = 2;

/** Bytes of a recording that are packed together. */
export const PIECE_BYTES = 1024 ** 2;

/** How a recording is packed in a store: by Brotli (RFC 7932) up to form 5, by Zstandard (RFC 8878) since, which unfolds in a quarter of the time. */
export type RecordingEncoding = 'brotli' | 'zstd';

export type PackedRecording = {
  readonly encoding: RecordingEncoding;
  /** One at least; put together, once unfolded, they are the recording. */
  readonly pieces: readonly Buffer[];
};

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

/**
 * Packs the bytes of a recording for the store, a mebibyte at a time: what is unfolded in smaller pieces goes through memory that the
 * program has already, where a system would have to hand out new memory for a whole long recording.
 */
export function packRecording(bytes: Uint8Array): PackedRecording {
  const pieces: Buffer[] = [];
  for (let at = 0; at === 0 || at < bytes.length; at += PIECE_BYTES) {
    const params = { [constants.ZSTD_c_compressionLevel]: LEVEL };
    pieces.push(zstdCompressSync(bytes.subarray(at, at + PIECE_BYTES), { params }));
  }
  return { encoding: 'zstd', pieces };
}

/** The bytes of a piece; undefined where they do not unfold, or into more than `mostBytes`. */
export function unpackPiece(
  encoding: RecordingEncoding,
  compressed: Uint8Array,
  mostBytes: number,
): Buffer | undefined {
  if (encoding === 'brotli') return decompressBrotli(compressed, mostBytes);
  try {
    // in one stretch: otherwise it is collected in small ones, which are copied together at the end
    const chunkSize = Math.max(Math.min(mostBytes, PIECE_BYTES), constants.Z_MIN_CHUNK);
    return zstdDecompressSync(compressed, { maxOutputLength: mostBytes, chunkSize });
  } catch {
    return undefined;
  }
}
