import { brotliCompressSync, zstdCompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { decompressBrotli, unpackPiece } from '../../core/workspace/compression.ts';
import { callService } from '../../core/workspace/index.ts';
import { forcePast } from './runPast.ts';
import { makeWorkspace } from './visitFixture.ts';

const MEBIBYTE = 1024 ** 2;
/** 256 MiB of zeros in some hundred bytes, and in some thousand. */
const BOMB = brotliCompressSync(Buffer.alloc(256 * MEBIBYTE));
const ZSTD_BOMB = zstdCompressSync(Buffer.alloc(256 * MEBIBYTE));

describe('stored bytes that unfold into far more', () => {
  it('are small themselves', () => {
    expect(BOMB.length).toBeLessThan(1000);
    expect(ZSTD_BOMB.length).toBeLessThan(30_000);
  });

  it('unfold no further than they may', () => {
    expect(decompressBrotli(BOMB, MEBIBYTE)).toBeUndefined();
    expect(decompressBrotli(brotliCompressSync(Buffer.alloc(MEBIBYTE)), MEBIBYTE)?.length).toBe(MEBIBYTE);
    expect(decompressBrotli(Buffer.from('no Brotli'), MEBIBYTE)).toBeUndefined();
  });

  it('unfold as recordings no further than was stored', () => {
    const unpack = (encoding: 'brotli' | 'zstd', compressed_bytes: Uint8Array) =>
      unpackPiece(encoding, compressed_bytes, MEBIBYTE);
    expect(unpack('zstd', ZSTD_BOMB)).toBeUndefined();
    expect(unpack('brotli', BOMB)).toBeUndefined();
    expect(unpack('zstd', zstdCompressSync(Buffer.alloc(MEBIBYTE)))?.length).toBe(MEBIBYTE);
    expect(unpack('brotli', brotliCompressSync(Buffer.alloc(MEBIBYTE)))?.length).toBe(MEBIBYTE);
    expect(unpack('zstd', Buffer.from('neither'))).toBeUndefined();
  });

  it.each([
    ['brotli', BOMB],
    ['zstd', ZSTD_BOMB],
  ])('in the place of a recording are refused as what they are: %s', async (encoding, bomb) => {
    const { store, handlers, visitId } = await makeWorkspace();
    const bytes = bomb.toString('hex');
    const literal = store.kind === 'file' ? `x'${bytes}'` : `'\\x${bytes}'`;
    await forcePast(store, `UPDATE recordings SET encoding = '${encoding}', compressed_bytes = ${literal}`);
    expect(await callService(handlers, 'visit.recordings', { visitId })).toMatchObject({
      ok: false,
      code: 'store.damaged',
    });
  });
});
