import { spawn } from 'node:child_process';
import {
  closeSync,
  copyFileSync,
  existsSync,
  openSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { checkWorkspace, proveWorkspace } from '../../core/workspace/care/index.ts';
import { callService, createWorkspaceService, importVisit, openStore } from '../../core/workspace/index.ts';
import { migrations } from '../../core/workspace/migrations/index.ts';
import { nameFileSystem } from '../../core/workspace/opening/diskKind.ts';
import { mountDisk, whyNoDisks } from './mountDisk.ts';
import { makeCsv, makeFolder, makeSource, makeVisitFile } from './visitFixture.ts';

const HOLDER = fileURLToPath(new URL('./holdWorkspace.ts', import.meta.url));
const FIXTURES = join(import.meta.dirname, 'fixtures');
const FIRST_FORM = join(FIXTURES, 'v1.stemroot');

const noDisks = whyNoDisks();
if (noDisks) console.log(`skipped: workspaces on full and read-only disks; ${noDisks}`);

function open(path: string, options = {}) {
  const store = openStore(path, options);
  onTestFinished(() => store.close());
  return store;
}

function source(poleId: string) {
  return makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv() });
}

async function makeFile(folder = makeFolder()): Promise<string> {
  const path = join(folder, 'a.stemroot');
  const store = openStore(path, { create: true });
  await importVisit(store, source('TV-0001'));
  await store.close();
  return path;
}

function countVisits(store: ReturnType<typeof openStore>): unknown {
  return store.database.prepare('SELECT count(*) FROM visits').pluck().get();
}

/** Holds a workspace open in another process until it is ended. */
async function holdElsewhere(path: string) {
  const holder = spawn(process.execPath, [HOLDER, path], { stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => void holder.kill('SIGKILL'));
  const ended = new Promise((resolve) => holder.on('exit', resolve));
  for await (const _ of createInterface({ input: holder.stdout })) break;
  return async (signal: NodeJS.Signals) => {
    holder.kill(signal);
    await ended;
  };
}

describe('two programs on one workspace', () => {
  it('the second reads, says so, and stores nothing', async () => {
    const path = await makeFile();
    await holdElsewhere(path);
    const second = open(path);
    expect(second.readOnly).toMatchObject({
      code: 'store.inUse',
      message: expect.stringContaining('open in another window or command'),
    });
    expect(countVisits(second)).toBe(1);
    expect(await importVisit(second, source('TV-0002'))).toMatchObject({
      status: 'failed',
      error: { code: 'store.readOnly', message: expect.stringContaining('another window or command') },
    });
    expect(countVisits(second)).toBe(1);
  });

  it.each(['SIGTERM', 'SIGKILL'] as const)(
    'the right to write is free again once the first is ended by %s',
    async (signal) => {
      const path = await makeFile();
      const end = await holdElsewhere(path);
      await end(signal);
      expect(open(path).readOnly).toBeNull();
    },
  );

  it('sees what the first stores meanwhile', async () => {
    const path = await makeFile();
    const [first, second] = [open(path), open(path)];
    expect([first.readOnly, second.readOnly?.code]).toEqual([null, 'store.inUse']);
    await importVisit(first, source('TV-0002'));
    expect(countVisits(second)).toBe(2);
  });

  it('two ways to the same file are one workspace', async () => {
    const folder = makeFolder();
    const path = await makeFile(folder);
    symlinkSync(folder, join(folder, 'link'));
    const [first, second] = [open(path), open(join(folder, 'link', 'a.stemroot'))];
    expect([first.readOnly, second.readOnly?.code]).toEqual([null, 'store.inUse']);
    symlinkSync(path, join(folder, 'other.stemroot'));
    expect(open(join(folder, 'other.stemroot')).readOnly?.code).toBe('store.inUse');
  });

  it('threads of the first share its right', async () => {
    const first = open(await makeFile());
    const thread = open(first.forThreads.path, first.forThreads.options);
    expect(await importVisit(thread, source('TV-0002'))).toMatchObject({ status: 'imported' });
    expect(countVisits(first)).toBe(2);
  });

  it('refuses where the place of its lock is taken by something else', async () => {
    const path = await makeFile();
    writeFileSync(`${path}-lock`, 'x'.repeat(5000));
    expect(() => openStore(path)).toThrow(/cannot be locked against other programs/);
  });
});

describe('a workspace that is not what it was', () => {
  it('is refused where a page is damaged, and told how to go on', async () => {
    const path = await makeFile();
    const database = new Database(path, { readonly: true });
    const root = database
      .prepare("SELECT rootpage FROM sqlite_schema WHERE name = 'visits'")
      .pluck()
      .get() as number;
    const pageBytes = database.pragma('page_size', { simple: true }) as number;
    database.close();
    const file = openSync(path, 'r+');
    writeSync(file, Buffer.alloc(pageBytes, 0xa5), 0, pageBytes, (root - 1) * pageBytes);
    expect(() => openStore(path)).toThrow(/is damaged/);
  });

  it.each([
    ['a trigger was taken away', 'DROP TRIGGER rulings_never_change', 'rulings_never_change'],
    ['a trigger was added', 'CREATE TRIGGER evil AFTER INSERT ON visits BEGIN SELECT 1; END', 'evil'],
    ['a view was added', 'CREATE VIEW evil AS SELECT 1', 'evil'],
    ['a column was added', 'ALTER TABLE poles ADD COLUMN evil TEXT', 'poles'],
  ])('is refused where %s', async (_what, sql, name) => {
    const path = await makeFile();
    const database = new Database(path);
    database.exec(sql);
    database.close();
    expect(() => openStore(path)).toThrow(`"${name}" is missing, changed or not its own`);
  });

  it('is refused where a newer form would bring a view, which may run for ever', async () => {
    const path = await makeFile();
    const database = new Database(path);
    database.exec(
      'CREATE VIEW endless AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i FROM n',
    );
    database.pragma('user_version = 99');
    database.close();
    expect(() => openStore(path)).toThrow(/"endless"/);
  });
});

describe.skipIf(noDisks)('a disk that can only be read', () => {
  it('has its workspace read where it lies or through a copy, and says so', async () => {
    const disk = mountDisk(8);
    const path = await makeFile(disk.folder);
    disk.makeReadOnly();
    const store = open(path);
    expect(store.readOnly).toMatchObject({
      code: 'store.readOnlyDisk',
      message: expect.stringContaining('lies where nothing can be written'),
    });
    const handlers = createWorkspaceService(store);
    expect(await callService(handlers, 'visit.open', { visitId: 1 })).toMatchObject({ ok: true });
    const ruling = { visitId: 1, assessmentId: null, analyst: 'A', decision: 'watch', reason: 'soft root' };
    expect(await callService(handlers, 'visit.rule', ruling)).toMatchObject({
      ok: false,
      code: 'store.readOnly',
    });
    expect(await callService(handlers, 'visit.assess', { visitId: 1, decisions: [] })).toMatchObject({
      ok: false,
      code: 'store.readOnly',
    });
  });

  it('loses nothing that only the write-ahead log holds', async () => {
    const disk = mountDisk(8);
    const path = await makeFile();
    const writer = open(path);
    await importVisit(writer, source('TV-0002'));
    const there = join(disk.folder, 'a.stemroot');
    for (const ending of ['', '-wal']) copyFileSync(path + ending, there + ending);
    disk.makeReadOnly();
    expect(countVisits(open(there))).toBe(2);
  });

  it('has an older form brought forward in a copy, which is gone afterwards', async () => {
    const disk = mountDisk(8);
    const path = join(disk.folder, 'a.stemroot');
    copyFileSync(FIRST_FORM, path);
    disk.makeReadOnly();
    const store = openStore(path);
    expect(store.readOnly?.code).toBe('store.readOnlyDisk');
    expect(countVisits(store)).toBe(2);
    // its register is computed in the copy
    const listed = await callService(createWorkspaceService(store), 'register.query', {});
    expect(listed).toMatchObject({ ok: true, value: { total: 2 } });
    const copy = store.forThreads.path;
    expect(copy).not.toBe(path);
    await store.close();
    expect(existsSync(copy)).toBe(false);
    expect(readFileSync(path).equals(readFileSync(FIRST_FORM))).toBe(true);
  });

  it('takes no new workspace, and says why', () => {
    const disk = mountDisk(8);
    disk.makeReadOnly();
    expect(() => openStore(join(disk.folder, 'new.stemroot'), { create: true })).toThrow(
      /cannot be (opened|written)/,
    );
  });
});

describe.skipIf(noDisks)('a full disk', () => {
  it('keeps what was stored, says so, and goes on once there is room', async () => {
    const disk = mountDisk(2);
    const path = await makeFile(disk.folder);
    const store = open(path);
    const filler = join(disk.folder, 'filler');
    fillDisk(filler);
    const outcome = await importVisit(store, source('TV-0002'));
    expect(outcome).toMatchObject({
      status: 'failed',
      error: { code: 'store.full', message: expect.stringContaining('the disk is full') },
    });
    expect(countVisits(store)).toBe(1);
    writeFileSync(filler, '');
    expect(await importVisit(store, source('TV-0002'))).toMatchObject({ status: 'imported' });
    expect(store.database.pragma('integrity_check', { simple: true })).toBe('ok');
  });

  it('makes no workspace, and says why', () => {
    const disk = mountDisk(1);
    fillDisk(join(disk.folder, 'filler'));
    expect(() => openStore(join(disk.folder, 'new.stemroot'), { create: true })).toThrow(/disk is full/);
  });
});

/** Writes until nothing more goes in. */
function fillDisk(path: string): void {
  const file = openSync(path, 'w');
  try {
    for (;;) writeSync(file, Buffer.alloc(4096, 1));
  } catch (error) {
    expect((error as NodeJS.ErrnoException).code).toBe('ENOSPC');
  } finally {
    closeSync(file);
  }
}

describe('an older form', () => {
  /** A file of each form up to now; those of 2 to 4 never stood alone and were made by the migrations up to them. */
  const kept = readdirSync(FIXTURES).filter((name) => /^v\d+\.stemroot$/.test(name));

  it('has a kept file each', () => {
    const forms = kept.map((name) => Number.parseInt(name.slice(1), 10)).sort((a, b) => a - b);
    expect(forms.slice(0, migrations.length - 1)).toEqual(
      Array.from({ length: migrations.length - 1 }, (_, i) => i + 1),
    );
  });

  it.each(kept)('loses nothing on its way to the newest, and is proven there: %s', (name) => {
    const before = new Database(place(name), { readonly: true });
    onTestFinished(() => void before.close());
    const store = open(place(name));
    const tables = before
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!'")
      .pluck()
      .all() as string[];
    for (const table of tables) {
      const old = before.prepare(`SELECT * FROM ${table}`).all() as object[];
      const now = store.database.prepare(`SELECT * FROM ${table}`).all();
      expect(now.slice(0, old.length)).toMatchObject(old);
      if (table !== 'trail') expect(now).toHaveLength(old.length);
    }
    expect(store.readOnly).toBeNull();
    expect(checkWorkspace(store.database).faults).toEqual([]);
    expect(proveWorkspace(store.database)).toMatchObject({ holds: true, rows: [], evidence: [] });
  });

  function place(name: string): string {
    const path = join(makeFolder(), name);
    copyFileSync(join(FIXTURES, name), path);
    return path;
  }

  it('is brought to the newest with everything in it, and its trail tells so', async () => {
    const path = join(makeFolder(), 'old.stemroot');
    copyFileSync(FIRST_FORM, path);
    const kept = join(makeFolder(), 'kept.stemroot');
    copyFileSync(FIRST_FORM, kept);
    const before = new Database(kept, { readonly: true });
    const rowsOf = (database: Database.Database, table: string) =>
      database.prepare(`SELECT * FROM ${table}`).all();
    const store = open(path);
    for (const table of ['poles', 'visits', 'recordings', 'visit_recordings', 'assessments', 'rulings']) {
      const old = rowsOf(before, table);
      expect(old.length).toBeGreaterThan(0);
      expect(rowsOf(store.database, table)).toMatchObject(old as object[]);
    }
    before.close();
    const entries = store.database.prepare('SELECT action, before_json, rows_json FROM trail').all() as {
      rows_json: string;
    }[];
    expect(entries).toMatchObject([{ action: 'migrate', before_json: '{"form":1}' }]);
    expect(JSON.parse(entries[0]!.rows_json)).toHaveLength(2 + 2 + 3 + 3 + 2 + 1);
    const handlers = createWorkspaceService(store);
    expect((await handlers['register.list']({})).rows).toMatchObject([{ visitId: 1 }, { visitId: 2 }]);
    expect(await callService(handlers, 'visit.open', { visitId: 1 })).toMatchObject({
      ok: true,
      value: { assessment: { verdict: 'assessed' }, rulings: [{ decision: 'watch' }] },
    });
  });
});

describe('network file systems', () => {
  // Numbers: linux/magic.h as shown in statfs(2), Linux man-pages 6.
  it.each([
    ['ext4', 0xef53, null],
    ['tmpfs', 0x01021994, null],
    ['btrfs', 0x9123683e, null],
    ['NFS', 0x6969, 'NFS'],
    ['CIFS, given as a signed number', 0xff534d42 | 0, 'CIFS'],
  ])('%s', (_name, type, expected) => {
    expect(nameFileSystem(type)).toBe(expected);
  });
});
