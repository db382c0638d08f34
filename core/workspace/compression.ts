import { brotliCompressSync, constants } from 'node:zlib';

/** Samples and tables of numbers shrink little beyond this quality, and the time grows fast. */
const QUALITY = 5;

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
