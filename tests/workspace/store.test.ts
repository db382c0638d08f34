import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { sql } from 'kysely';
import { describe, expect, it } from 'vitest';
import { StoreError } from '../../core/errors.ts';
import { openStore } from '../../core/workspace/index.ts';
import { migrations } from '../../core/workspace/migrations/index.ts';
import { makeFileStore, makeFolder } from './visitFixture.ts';

// Offsets of application_id and user_version: sqlite.org, "Database File Format", 1.3 The Database Header.
const APPLICATION_ID_OFFSET = 68;
const USER_VERSION_OFFSET = 60;

async function makeClosedStore(): Promise<string> {
  const path = join(makeFolder(), 'a.stemroot');
  await openStore(path, { create: true }).close();
  return path;
}

describe('openStore', () => {
  it('marks the file as a workspace, in the header that any SQLite program reads', async () => {
    const header = readFileSync(await makeClosedStore());
    expect(header.toString('latin1', 0, 15)).toBe('SQLite format 3');
    expect(header.toString('latin1', APPLICATION_ID_OFFSET, APPLICATION_ID_OFFSET + 4)).toBe('Stmr');
    expect(header.readUInt32BE(USER_VERSION_OFFSET)).toBe(migrations.length);
  });

  it('keeps every commit, its foreign keys, and readers beside the writer', async () => {
    const { db } = makeFileStore();
    const ask = async (pragma: string) =>
      Object.values((await sql`${sql.raw(`PRAGMA ${pragma}`)}`.execute(db)).rows[0] as object)[0];
    expect(await ask('journal_mode')).toBe('wal');
    expect(await ask('synchronous')).toBe(2);
    expect(await ask('foreign_keys')).toBe(1);
    expect(await ask('busy_timeout')).toBeGreaterThan(0);
  });

  it('makes strict tables only', async () => {
    const { db } = makeFileStore();
    const { rows } = await sql<{ name: string; strict: number }>`
      SELECT name, strict FROM pragma_table_list
      WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite%'`.execute(db);
    expect(rows.length).toBeGreaterThan(5);
    expect(rows.every((row) => row.strict === 1)).toBe(true);
  });

  it('opens again what it made, and finishes one whose making was cut off', async () => {
    const path = await makeClosedStore();
    await openStore(path).close();
    const cutOff = join(makeFolder(), 'b.stemroot');
    const database = new Database(cutOff);
    database.pragma(`application_id = ${0x53746d72}`);
    database.close();
    const store = openStore(cutOff);
    expect(await store.db.selectFrom('visits').selectAll().execute()).toEqual([]);
    await store.close();
  });

  it('refuses a file that is missing, unless told to make it', () => {
    expect(() => openStore(join(makeFolder(), 'none.stemroot'))).toThrow(/There is no workspace at .*none/);
  });

  it.each([
    ['empty', Buffer.alloc(0)],
    ['text', Buffer.from('{"format":"stemroot-visit"}')],
    ['cut short', Buffer.from('SQLite')],
  ])('refuses a file that is no database: %s', (_kind, bytes) => {
    const path = join(makeFolder(), 'x.stemroot');
    writeFileSync(path, bytes);
    expect(() => openStore(path, { create: true })).toThrow(/x\.stemroot is no Stemroot workspace/);
    expect(readFileSync(path).equals(bytes)).toBe(true);
  });

  it('refuses a database with the right first bytes and nothing behind them', () => {
    const path = join(makeFolder(), 'x.stemroot');
    writeFileSync(path, `SQLite format 3\0${'x'.repeat(5000)}`);
    expect(() => openStore(path)).toThrow(StoreError);
  });

  it('refuses a database of another program and leaves it as it was', () => {
    const path = join(makeFolder(), 'other.stemroot');
    const database = new Database(path);
    database.exec('CREATE TABLE something (a)');
    database.close();
    const before = readFileSync(path);
    expect(() => openStore(path, { create: true })).toThrow(/is no Stemroot workspace/);
    expect(readFileSync(path).equals(before)).toBe(true);
  });

  it('opens a workspace of a newer program for reading, says so, and leaves it as it was', async () => {
    const path = await makeClosedStore();
    const database = new Database(path);
    database.pragma('user_version = 99');
    database.close();
    const before = readFileSync(path);
    const store = openStore(path);
    expect(store.readOnly).toMatchObject({
      code: 'store.newer',
      message: expect.stringMatching(/newer Stemroot \(its form is 99, this program knows up to \d+\)/),
    });
    expect(await store.db.selectFrom('visits').selectAll().execute()).toEqual([]);
    await expect(store.db.transaction().execute(async () => {})).rejects.toThrow(/newer Stemroot/);
    await store.close();
    expect(readFileSync(path).equals(before)).toBe(true);
  });
});
