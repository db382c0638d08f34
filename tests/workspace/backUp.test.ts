import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statfsSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import {
  backUp,
  backupFolder,
  importVisit,
  listBackups,
  openForCare,
  openStore,
  restore,
} from '../../core/workspace/index.ts';
import { mountDisk, whyNoDisks } from './mountDisk.ts';
import { makeCsv, makeFileWorkspace, makeFolder, makeSource, makeVisitFile } from './visitFixture.ts';

function visit(number: number) {
  const pole = `TV-${number}`;
  return makeSource(makeVisitFile(pole), { [`${pole}.csv`]: makeCsv(number) });
}

/** Changes visits past the program, and puts the trigger back that forbids it. */
function changePast(database: Database.Database, sql: string): void {
  const trigger = database
    .prepare("SELECT sql FROM sqlite_schema WHERE name = 'visits_never_change'")
    .pluck()
    .get();
  database.exec('DROP TRIGGER visits_never_change; DROP TRIGGER IF EXISTS temp.visits_UPDATE');
  database.exec(sql);
  database.exec(trigger as string);
}

function codes(path: string): unknown[] {
  const database = new Database(path, { readonly: true });
  try {
    return database.prepare('SELECT code FROM poles ORDER BY pole_id').pluck().all();
  } finally {
    database.close();
  }
}

describe('a backup', () => {
  it('is a whole workspace of its own, made while others write', async () => {
    const { store } = await makeFileWorkspace('TV-0');
    const writing = importVisit(store, visit(1));
    const backup = await backUp(store);
    await writing;
    expect(codes(backup.path)[0]).toBe('TV-0');
    expect(readdirSync(backupFolder(store.path))).toHaveLength(1);
    const care = openForCare(backup.path);
    onTestFinished(() => care.close());
    expect(care.prove().holds).toBe(true);
    const opened = openStore(backup.path);
    onTestFinished(() => opened.close());
    expect([opened.readOnly, opened.notices]).toEqual([null, []]);
  });

  it('is one file that a disk where nothing can be written can hold', async () => {
    const { store } = await makeFileWorkspace('TV-0');
    const { path } = await backUp(store);
    // sqlite.org, "Database File Format", 1.3.3: 1 for a rollback journal, 2 for a write-ahead log
    expect([...readFileSync(path).subarray(18, 20)]).toEqual([1, 1]);
  });

  it('takes the place of the oldest, by the number of its last entry and not by the clock', async () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    onTestFinished(() => void vi.useRealTimers());
    const { store } = await makeFileWorkspace('TV-0');
    const years = [2030, 2029, 2028, 2027];
    for (const [i, year] of years.entries()) {
      vi.setSystemTime(`${year}-01-01T00:00:00Z`);
      await importVisit(store, visit(i + 1));
      await backUp(store, { keep: 2 });
    }
    const kept = listBackups(store.path, backupFolder(store.path));
    expect(kept.map((path) => codes(path).at(-1))).toEqual(['TV-4', 'TV-3']);
  });

  it('removes no older one where it does not stand as its trail tells', async () => {
    const { store } = await makeFileWorkspace('TV-0');
    await backUp(store, { keep: 1 });
    await importVisit(store, visit(1));
    changePast(store.database, "UPDATE visits SET file_name = 'other'");
    expect(await backUp(store, { keep: 1 })).toMatchObject({ removed: [] });
    expect(listBackups(store.path, backupFolder(store.path))).toHaveLength(2);
  });

  it('removes what a backup left that was broken off, and none that is under way', async () => {
    const { store } = await makeFileWorkspace('TV-0');
    const folder = backupFolder(store.path);
    mkdirSync(folder);
    const { pid: gone } = spawnSync(process.execPath, ['-e', '']);
    const [left, underWay] = [`${gone}-1.unfinished`, `${process.pid}-1.unfinished`];
    for (const name of [left, underWay]) writeFileSync(join(folder, name), '');
    await backUp(store);
    const names = readdirSync(folder);
    expect([names.includes(left), names.includes(underWay)]).toEqual([false, true]);
  });

  it('leaves other files of its folder alone', async () => {
    const { store } = await makeFileWorkspace('TV-0');
    const folder = backupFolder(store.path);
    mkdirSync(folder);
    const others = ['notes.txt', 'test-0000001.stemroot', 'other-0000001-20260503T000000Z.stemroot'];
    for (const name of others) writeFileSync(join(folder, name), name);
    for (const i of [1, 2, 3]) {
      await importVisit(store, visit(i));
      await backUp(store, { keep: 1 });
    }
    const own = readdirSync(folder).filter((name) => !others.includes(name));
    expect(own).toEqual([expect.stringMatching(/^test-0000005-/)]);
    expect(readdirSync(folder)).toHaveLength(others.length + 1);
  });

  it('says why where its folder cannot be made', async () => {
    const { store } = await makeFileWorkspace('TV-0');
    const folder = join(makeFolder(), 'file');
    writeFileSync(folder, '');
    await expect(backUp(store, { folder })).rejects.toThrow(/folder .* for backups cannot be made/);
  });
});

describe('restoring', () => {
  async function makeBackedUp() {
    const { store } = await makeFileWorkspace('TV-0');
    const { path: backup } = await backUp(store);
    await importVisit(store, visit(1));
    await store.close();
    return { path: store.path, backup };
  }

  it('puts the backup in place, keeps what stood there, and tells of it in the trail', async () => {
    const { path, backup } = await makeBackedUp();
    const { replaced } = restore(path, backup, { why: 'a disk went bad' });
    expect([codes(path), codes(replaced!)]).toEqual([['TV-0'], ['TV-0', 'TV-1']]);
    const store = openStore(path);
    onTestFinished(() => store.close());
    const last = await store.db.selectFrom('trail').selectAll().orderBy('seq', 'desc').limit(1).execute();
    expect(last).toMatchObject([{ action: 'restore', why: 'a disk went bad' }]);
    const care = openForCare(path);
    onTestFinished(() => care.close());
    expect(care.prove().holds).toBe(true);
    expect(await importVisit(store, visit(2))).toMatchObject({ status: 'imported' });
  });

  it('takes over from a workspace that is damaged, and keeps it with its log', async () => {
    const { path, backup } = await makeBackedUp();
    writeFileSync(path, Buffer.concat([readFileSync(path).subarray(0, 100), Buffer.alloc(5000, 0xa5)]));
    writeFileSync(`${path}-wal`, 'what was left of a log');
    const { replaced } = restore(path, backup);
    expect(codes(path)).toEqual(['TV-0']);
    expect(existsSync(replaced!)).toBe(true);
    expect(existsSync(`${path}-wal`)).toBe(false);
  });

  it('works where there is no workspace any more', async () => {
    const { backup } = await makeBackedUp();
    const path = join(makeFolder(), 'new.stemroot');
    expect(restore(path, backup).replaced).toBeNull();
    expect(codes(path)).toEqual(['TV-0']);
  });

  it('refuses while the workspace is open', async () => {
    const { path, backup } = await makeBackedUp();
    const store = openStore(path);
    onTestFinished(() => store.close());
    expect(() => restore(path, backup)).toThrow(/open in another window or command/);
    expect(codes(path)).toEqual(['TV-0', 'TV-1']);
  });

  it.runIf(whyNoDisks() === null)(
    'says that the disk is full, leaves the workspace and nothing beside it',
    async () => {
      const { path, backup } = await makeBackedUp();
      const disk = mountDisk(1);
      const workspace = join(disk.folder, 'a.stemroot');
      copyFileSync(path, workspace);
      writeFileSync(
        join(disk.folder, 'filler'),
        Buffer.alloc(statfsSync(disk.folder).bavail * 4096 - 3 * 4096),
      );
      expect(() => restore(workspace, backup)).toThrow(/a\.stemroot cannot grow: the disk is full/);
      expect(readdirSync(disk.folder).sort()).toEqual(['a.stemroot', 'a.stemroot-lock', 'filler']);
      // the index of a write-ahead log needs some room, also for reading
      expect(() => openStore(workspace)).toThrow(/a\.stemroot cannot be opened: the disk is full/);
      rmSync(join(disk.folder, 'filler'));
      expect(codes(workspace)).toEqual(['TV-0', 'TV-1']);
    },
  );

  it('refuses a backup that is damaged, changed or none, and leaves the workspace', async () => {
    const { path, backup } = await makeBackedUp();
    const before = readFileSync(path);
    const sound = readFileSync(backup);
    const changed = new Database(backup);
    changePast(changed, "UPDATE visits SET file_name = 'other'");
    expect(() => restore(path, backup)).toThrow(
      /does not stand as its trail tells \(visits \[1\]: was changed/,
    );
    changed.exec('DROP TRIGGER visits_never_change');
    changed.close();
    expect(() => restore(path, backup)).toThrow(/"visits_never_change" is missing, changed or not its own/);
    writeFileSync(backup, sound);
    const file = openSync(backup, 'r+');
    writeSync(file, Buffer.alloc(8192, 0xa5), 0, 8192, 4096);
    expect(() => restore(path, backup)).toThrow(/damaged|malformed/);
    writeFileSync(backup, 'text');
    expect(() => restore(path, backup)).toThrow(/no Stemroot workspace/);
    expect(readFileSync(path).equals(before)).toBe(true);
  });
});
