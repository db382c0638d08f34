import { brotliCompressSync } from 'node:zlib';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { decompressBrotli } from '../../core/workspace/compression.ts';
import { callService } from '../../core/workspace/index.ts';
import { makeWorkspace } from './visitFixture.ts';

const MEBIBYTE = 1024 ** 2;
/** 256 MiB of zeros in some hundred bytes. */
const BOMB = brotliCompressSync(Buffer.alloc(256 * MEBIBYTE));

describe('stored bytes that unfold into far more', () => {
  it('are some hundred bytes themselves', () => {
    expect(BOMB.length).toBeLessThan(1000);
  });

  it('unfold no further than they may', () => {
    expect(decompressBrotli(BOMB, MEBIBYTE)).toBeUndefined();
    expect(decompressBrotli(brotliCompressSync(Buffer.alloc(MEBIBYTE)), MEBIBYTE)?.length).toBe(MEBIBYTE);
    expect(decompressBrotli(Buffer.from('no Brotli'), MEBIBYTE)).toBeUndefined();
  });

  it('in the place of a recording are refused as what they are', async () => {
    const { store, handlers, visitId } = await makeWorkspace();
    const database = new Database(store.path);
    database.exec('DROP TRIGGER recordings_never_change');
    database.prepare('UPDATE recordings SET compressed_bytes = ?').run(BOMB);
    database.close();
    expect(await callService(handlers, 'visit.recordings', { visitId })).toMatchObject({
      ok: false,
      code: 'store.damaged',
    });
  });
});
