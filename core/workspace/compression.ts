import { brotliCompressSync, brotliDecompressSync, constants } from 'node:zlib';
import { RECORDING_LIMITS } from '../recording/index.ts';

/**
 * Samples shrink little beyond this quality: a recording of two channels of noise and ringing takes 7 % more than at quality 5,
 * at a quarter of the time, which was a seventh of all that a visit costs (measured; docs/scale.md).
 */
const QUALITY = 2;

/** Compresses bytes or UTF-8 text by Brotli, for keeping in the workspace. */
export function compressBrotli(content: Uint8Array | string): Buffer {
  const bytes = typeof content === 'string' ? Buffer.from(content) : content;
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

/** The bytes of a stored recording; undefined where there are more of them than were stored. @param sizeBytes - as stored beside it */
export function decompressRecording(compressed: Uint8Array, sizeBytes: number): Buffer | undefined {
  return decompressBrotli(compressed, Math.min(sizeBytes, RECORDING_LIMITS.largestFileBytes));
}
