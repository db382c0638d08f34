import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import canonicalize from 'canonicalize';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { checkWorkspace, proveWorkspace } from '../../core/workspace/care/index.ts';
import { importVisit, openStore } from '../../core/workspace/index.ts';
import { listTrackedTables } from '../../core/workspace/trail/trailTables.ts';
import { createRandomStream } from '../../samples/random.ts';
import { fillForProof } from './fillForProof.ts';
import { forceFile } from './runPast.ts';
import { changeRandomCell } from './tamper.ts';
import {
  makeCsv,
  makeFileStore,
  makeFileWorkspace,
  makeFolder,
  makeSource,
  makeVisitFile,
} from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

const FIRST_FORM = fileURLToPath(new URL('./fixtures/v1.stemroot', import.meta.url));
const CHANGED_CELLS = 50;

/** A filled workspace. @returns path of a file that is closed */
async function makeFilled(): Promise<string> {
  const { store } = await fillForProof(makeFileStore());
  const path = join(makeFolder(), 'filled.stemroot');
  await store.database.backup(path);
  return path;
}

function openCopy(path: string): Database.Database {
  const copy = join(makeFolder(), 'copy.stemroot');
  copyFileSync(path, copy);
  const database = new Database(copy);
  onTestFinished(() => void database.close());
  return database;
}

describe('the trail', () => {
  it('tells who did what, in order', async () => {
    const database = openCopy(await makeFilled());
    const entries = database
      .prepare('SELECT action, subject, who, why, before_json, after_json FROM trail')
      .all() as {
      action: string;
    }[];
    expect(entries.map(({ action }) => action)).toEqual([
      'make',
      ...Array(3).fill('import'),
      ...Array(3).fill('assess'),
      ...Array(4).fill('rule'),
    ]);
    expect(entries[7]).toEqual({
      action: 'rule',
      subject: 'visit 1, pole TV-0001',
      who: 'A. Analyst',
      why: 'soft root',
      before_json: null,
      after_json: '{"rulingId":1,"decision":"watch","assessmentId":1}',
    });
  });

  it('is proven, with every row and recording', async () => {
    const proof = proveWorkspace(openCopy(await makeFilled()));
    expect(proof).toMatchObject({ holds: true, rows: [], evidence: [], form: [], recordings: 3, visits: 3 });
    expect(proof.chain).toMatchObject({ entries: 11, faults: [], remarks: [], known: null });
  });

  it('is proven of a file that was brought forward from the first form', async () => {
    const path = join(makeFolder(), 'old.stemroot');
    copyFileSync(FIRST_FORM, path);
    await openStore(path).close();
    expect(proveWorkspace(openCopy(path))).toMatchObject({ holds: true, recordings: 3, visits: 2 });
  });

  it(`finds and names each of ${CHANGED_CELLS} cells changed at random, in every table`, async () => {
    const path = await makeFilled();
    const tables = ['trail', ...listTrackedTables(openCopy(path)).map(({ name }) => name)];
    const filled = tables.filter(
      (table) => openCopy(path).prepare(`SELECT 1 FROM ${table}`).get() !== undefined,
    );
    const seen = new Set<string>();
    for (let seed = 0; seed < CHANGED_CELLS; seed++) {
      const database = openCopy(path);
      const cell = changeRandomCell(database, filled, createRandomStream(`cell ${seed}`));
      const { holds, rows, chain, form } = proveWorkspace(database);
      const told = [...rows, ...chain.faults].join('\n');
      const name = cell.table === 'trail' ? 'Entr' : `${cell.table} ${cell.key}: `;
      expect({ seed, cell, holds, form, told }).toMatchObject({
        holds: false,
        form: [],
        told: expect.stringContaining(name),
      });
      seen.add(cell.table);
    }
    expect([...seen].sort()).toEqual([...filled].sort());
  });

  it('finds a row that was added, and one that is gone', async () => {
    const database = openCopy(await makeFilled());
    forceFile(
      database,
      `INSERT INTO rulings (visit_id, assessment_id, decided_at, analyst, decision, reason)
       VALUES (3, 3, '2026-05-03', 'A. Analyst', 'keep', 'sound'); DELETE FROM ruling_marks WHERE mark_id = 2`,
    );
    expect(proveWorkspace(database).rows).toEqual([
      'rulings [3]: was added past the trail.',
      'ruling_marks [2]: is missing; entry 11 told of it last.',
    ]);
  });

  it('finds entries taken out, put in another order, or cut off where a later hash was noted down', async () => {
    const path = await makeFilled();
    const out = openCopy(path);
    forceFile(out, 'DELETE FROM trail WHERE seq = 5');
    expect(proveWorkspace(out).chain.faults).toContain('Entries 5 to 5 are missing.');
    const order = openCopy(path);
    forceFile(
      order,
      'UPDATE trail SET seq = 100 WHERE seq = 5; UPDATE trail SET seq = 5 WHERE seq = 6; UPDATE trail SET seq = 6 WHERE seq = 100',
    );
    expect(proveWorkspace(order).chain.faults.length).toBeGreaterThanOrEqual(2);
    const cut = openCopy(path);
    const known = proveWorkspace(cut).chain.head!.sha256;
    expect(proveWorkspace(cut, { known })).toMatchObject({ holds: true, chain: { known: true } });
    forceFile(cut, 'DELETE FROM trail WHERE seq = 11; DELETE FROM ruling_marks WHERE mark_id = 2');
    expect(proveWorkspace(cut)).toMatchObject({ holds: true });
    expect(proveWorkspace(cut, { known })).toMatchObject({ holds: false, chain: { known: false } });
  });

  it('takes a clock that was set back for what it is', async () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    onTestFinished(() => void vi.useRealTimers());
    vi.setSystemTime('2026-05-03T12:00:00Z');
    const { store } = await makeFileWorkspace();
    vi.setSystemTime('2001-01-01T00:00:00Z');
    const source = makeSource(makeVisitFile('TV-0002'), { 'TV-0002.csv': makeCsv(1) });
    expect(await importVisit(store, source)).toMatchObject({ status: 'imported' });
    const { holds, chain } = proveWorkspace(store.database);
    expect([holds, chain.remarks]).toEqual([
      true,
      [
        'Between entry 2 and 3 the clock was set back, from 2026-05-03T12:00:00.000Z to 2001-01-01T00:00:00.000Z.',
      ],
    ]);
  });

  it('refuses a change that it does not tell of, and one outside of a transaction', async () => {
    const { store } = await makeFileWorkspace();
    const pole = { code: 'TV-9999', first_seen_at: '' };
    const { db } = store;
    await expect(
      db.transaction().execute((transaction) => transaction.insertInto('poles').values(pole).execute()),
    ).rejects.toThrow('A change to poles has no entry in the trail');
    await expect(db.insertInto('poles').values(pole).execute()).rejects.toThrow(/outside of a transaction/);
    expect(await db.selectFrom('poles').select('code').execute()).toEqual([{ code: 'TV-0001' }]);
  });
});

describe('the hash of a row', () => {
  // RFC 8785, JSON Canonicalization Scheme, 3.2.2 and 3.2.3: serialisation of primitives, sorting of properties
  it('rests on canonical JSON as the standard shows it', () => {
    const input =
      '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}';
    expect(canonicalize(JSON.parse(input))).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });
});

describe('the check of a file', () => {
  it('has nothing to tell of one that is whole', async () => {
    const report = checkWorkspace(openCopy(await makeFilled()));
    expect(report.faults).toEqual([]);
    expect(report.rows).toContainEqual({ table: 'visits', count: 3 });
  });

  it('names rows that lost what they belong to, and indexes that do not fit their table', async () => {
    const database = openCopy(await makeFilled());
    database.pragma('foreign_keys = OFF');
    forceFile(database, 'DELETE FROM poles WHERE pole_id = 2');
    expect(checkWorkspace(database).faults).toEqual([
      'visits, row 2: names a row of poles that is not there.',
    ]);
  });
});
