import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import Database from 'better-sqlite3';
import { StemrootError } from '../../core/errors.ts';
import { composeAssessment, insertAssessment } from '../../core/workspace/assessments.repository.ts';
import {
  callService,
  createWorkspaceService,
  importVisit,
  openForCare,
  openStore,
} from '../../core/workspace/index.ts';
import { appendTrail } from '../../core/workspace/trail/index.ts';
import { createRandomStream, type RandomStream } from '../../samples/random.ts';
import { assessment, makeInput } from '../report/fixture.ts';
import { changeRandomCell } from '../workspace/tamper.ts';
import { makeSource, makeVisitFile } from '../workspace/visitSources.ts';
import { mutateBytes, pick } from './mutateBytes.ts';

/** Files in memory where the system has them: thousands of cases are written and read. */
const SCRATCH = existsSync('/dev/shm') ? '/dev/shm' : tmpdir();
const TABLES = [
  'poles',
  'visits',
  'recordings',
  'visit_recordings',
  'assessments',
  'rulings',
  'trail',
] as const;

/** Zeros: 16 MiB from some ten bytes. */
const BOMB = brotliCompressSync(Buffer.alloc(16 * 1024 ** 2));

/** What is asked of a workspace that could be opened: all that reads what the file holds. */
const CALLS: readonly (readonly [name: string, request: object])[] = [
  ['workspace.describe', {}],
  ['register.list', {}],
  ['visit.open', { visitId: 1 }],
  ['recording.waveform', { visitId: 1, recording: 0 }],
  ['care.trail', {}],
  ['care.check', {}],
  ['care.prove', {}],
  ['fleet.progress', {}],
];

let sound: Promise<Uint8Array> | undefined;

/** A workspace file that was changed: bytes of it at random, or values in it past the program. */
export async function makeWorkspaceCase(seed: string): Promise<Uint8Array> {
  sound ??= makeSoundWorkspace();
  const bytes = await sound;
  const random = createRandomStream(seed);
  return random.between(0, 1) < 0.5 ? mutateBytes(bytes, random) : changeCells(bytes, random);
}

/** Opens a changed workspace in every way and asks all that reads it. @throws StemrootError, or whatever is a find */
export async function openWorkspaceCase(bytes: Uint8Array): Promise<void> {
  const folder = mkdtempSync(join(SCRATCH, 'stemroot-fuzz-'));
  const path = join(folder, 'a.stemroot');
  try {
    writeFileSync(path, bytes);
    lookInto(path);
    const store = openStore(path);
    try {
      const handlers = createWorkspaceService(store);
      for (const [name, request] of CALLS) {
        const answered = await callService(handlers, name, request);
        if (!answered.ok && answered.code === 'internal')
          throw new Error(`${name} was answered as "internal".`);
      }
    } finally {
      await store.close();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The commands of care open what {@link openStore} refuses. */
function lookInto(path: string): void {
  try {
    const care = openForCare(path);
    try {
      care.check();
      care.prove();
    } finally {
      care.close();
    }
  } catch (error) {
    if (!(error instanceof StemrootError)) throw error;
  }
}

function changeCells(bytes: Uint8Array, random: RandomStream): Uint8Array {
  const folder = mkdtempSync(join(SCRATCH, 'stemroot-fuzz-'));
  const path = join(folder, 'a.stemroot');
  try {
    writeFileSync(path, bytes);
    const database = new Database(path);
    database.pragma('journal_mode = MEMORY');
    const changes = Math.floor(random.between(1, 4));
    for (let i = 0; i < changes; i++) {
      try {
        changeRandomCell(database, TABLES, random);
      } catch (error) {
        // a change that the columns themselves refuse
        if (!(error instanceof Database.SqliteError)) throw error;
      }
    }
    if (random.between(0, 1) < 0.2) plantBomb(database, random);
    database.close();
    return readFileSync(path);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function plantBomb(database: Database.Database, random: RandomStream): void {
  const [table, column] = pick(
    [
      ['recordings', 'compressed_bytes'],
      ['assessments', 'picture_brotli'],
    ] as const,
    random,
  );
  const trigger = database
    .prepare('SELECT sql FROM sqlite_schema WHERE name = ?')
    .pluck()
    .get(`${table}_never_change`);
  database.exec(`DROP TRIGGER ${table}_never_change`);
  database.prepare(`UPDATE ${table} SET ${column} = ?`).run(BOMB);
  if (table === 'recordings')
    database.exec(`UPDATE recordings SET size_bytes = ${pick([1, 1e6, 1e9, 1e15], random)}`);
  database.exec(trigger as string);
}

/** One visit with a short recording, its result and a ruling. */
async function makeSoundWorkspace(): Promise<Uint8Array> {
  const folder = mkdtempSync(join(SCRATCH, 'stemroot-fuzz-'));
  const path = join(folder, 'sound.stemroot');
  try {
    const store = openStore(path, { create: true });
    const rows = Array.from({ length: 64 }, (_, i) => `${i / 200},${Math.sin(i)},${Math.cos(i)}`);
    const csv = ['time [s],a [m/s2],b [m/s2]', ...rows].join('\n');
    await importVisit(store, makeSource(makeVisitFile('FZ-1'), { 'FZ-1.csv': csv }));
    await store.db.transaction().execute(async (transaction) => {
      await insertAssessment(
        transaction,
        composeAssessment({
          visitId: 1,
          visitFileSha256: '0'.repeat(64),
          recordings: [],
          decisions: [],
          calibrationSha256: null,
          profileId: null,
          result: { ...assessment, poleId: 'FZ-1' },
          picture: makeInput().picture,
        }),
      );
      await appendTrail(transaction, { action: 'assess', subject: 'visit 1' });
    });
    const said = { analyst: 'A. Analyst', decision: 'watch', reason: 'soft root' } as const;
    await createWorkspaceService(store)['visit.rule']({ visitId: 1, assessmentId: 1, ...said });
    store.database.pragma('journal_mode = DELETE');
    await store.close();
    return readFileSync(path);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
