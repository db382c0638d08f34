import { describe, expect, it, onTestFinished } from 'vitest';
import {
  createWorkspaceService,
  importVisit,
  openTeamStore,
  openWorkspace,
  ROLES,
} from '../../core/workspace/index.ts';
import { appendTrail } from '../../core/workspace/trail/appendTrail.ts';
import { composeEntry, type ToldRow, type TrailRow } from '../../core/workspace/trail/composeEntry.ts';
import { makeCsv, makeSource, makeVisitFile } from '../workspace/visitFixture.ts';
import { asUser, hasPostgres, makeDatabase, makeUser, run } from './makeTeamStore.ts';

const NOT_ALLOWED = /permission denied/;
const EVERY_TABLE = `SELECT relname AS name FROM pg_class
  WHERE relnamespace = 'stemroot'::regnamespace AND relkind = 'r' ORDER BY relname`;

async function listTables(place: string): Promise<string[]> {
  return ((await run(place, EVERY_TABLE)) as { name: string }[]).map(({ name }) => name);
}

async function importOne(place: string): Promise<number> {
  const store = await openWorkspace(place);
  const source = makeSource(makeVisitFile('TV-0001'), { 'TV-0001.csv': makeCsv() });
  const { visitId } = await importVisit(store, source);
  await store.close();
  return visitId!;
}

async function addEntry(place: string, entry: TrailRow): Promise<void> {
  const columns = Object.keys(entry);
  await run(
    place,
    `INSERT INTO stemroot.trail (${columns}) VALUES (${columns.map((_, i) => `$${i + 1}`)})`,
    Object.values(entry),
  );
}

const ADD_CALIBRATION = `INSERT INTO stemroot.calibrations (name, number, document_json, document_sha256, origin, added_at)
  VALUES ('mine', 1, '{}', repeat('a', 64), 'published', 'now')`;
const CHOOSE_CALIBRATION = `INSERT INTO stemroot.calibration_choices (chosen_at, chosen_by, reason) VALUES ('now', 'me', '')`;

// what the database itself answers to plain connections, past the program
describe.skipIf(!hasPostgres())('roles of a team store', () => {
  it('let a reader see every table, and neither add, change, delete, empty nor drop', async () => {
    const keeper = await makeDatabase();
    await importOne(keeper);
    const reader = asUser(keeper, await makeUser(ROLES.read));
    const tables = await listTables(keeper);
    expect(tables).toContain('calibrations');
    for (const table of tables) {
      const name = `stemroot.${table}`;
      await run(reader, `SELECT * FROM ${name}`);
      await expect(run(reader, `INSERT INTO ${name} DEFAULT VALUES`)).rejects.toThrow(NOT_ALLOWED);
      await expect(run(reader, `DELETE FROM ${name}`)).rejects.toThrow(NOT_ALLOWED);
      await expect(run(reader, `TRUNCATE ${name} CASCADE`)).rejects.toThrow(NOT_ALLOWED);
      await expect(run(reader, `DROP TABLE ${name} CASCADE`)).rejects.toThrow(/must be owner/);
    }
    await expect(run(reader, "UPDATE stemroot.poles SET code = 'other'")).rejects.toThrow(NOT_ALLOWED);
    await expect(run(reader, ADD_CALIBRATION)).rejects.toThrow(NOT_ALLOWED);
    await expect(run(reader, `SET ROLE ${ROLES.publish}`)).rejects.toThrow(NOT_ALLOWED);
  });

  it('let an analyst add evidence and results, and neither publish nor choose a calibration', async () => {
    const keeper = await makeDatabase();
    const analyst = asUser(keeper, await makeUser(ROLES.analyse));
    const visitId = await importOne(analyst);
    const store = await openTeamStore(analyst);
    expect([store.may, store.readOnly]).toEqual(['analyse', null]);
    const handlers = createWorkspaceService(store);
    await handlers['visit.assess']({ visitId, decisions: [] });
    await expect(
      handlers['calibration.use']({ calibrationId: null, chosenBy: 'A. Nalyst', reason: 'a try' }),
    ).rejects.toMatchObject({
      code: 'store.notAllowed',
      hint: expect.stringContaining(ROLES.publish),
    });
    await store.close();
    await expect(run(analyst, ADD_CALIBRATION)).rejects.toThrow(NOT_ALLOWED);
    await expect(run(analyst, CHOOSE_CALIBRATION)).rejects.toThrow(NOT_ALLOWED);
    await expect(run(analyst, 'DELETE FROM stemroot.touched')).rejects.toThrow(NOT_ALLOWED);
  });

  it('let a publisher choose a calibration, which is told in the trail', async () => {
    const keeper = await makeDatabase();
    const store = await openTeamStore(asUser(keeper, await makeUser(ROLES.publish)));
    const handlers = createWorkspaceService(store);
    await handlers['calibration.use']({ calibrationId: null, chosenBy: 'P. Ublisher', reason: 'a try' });
    const { entries } = await handlers['care.trail']({ limit: 1 });
    expect(entries).toMatchObject([{ action: 'use', who: 'P. Ublisher', why: 'a try' }]);
    await store.close();
  });

  it('keep out who has none of them, and tell a reader so in words', async () => {
    const keeper = await makeDatabase();
    const stranger = asUser(keeper, await makeUser(null));
    await expect(run(stranger, 'SELECT * FROM stemroot.visits')).rejects.toThrow(NOT_ALLOWED);
    await expect(openTeamStore(stranger)).rejects.toMatchObject({ code: 'store.notAllowed' });
    const store = await openTeamStore(asUser(keeper, await makeUser(ROLES.read)));
    expect(store.readOnly).toMatchObject({ code: 'store.reader', message: /may read .* and not change it/ });
    await expect(store.db.transaction().execute(async () => {})).rejects.toThrow(/may read/);
    await store.close();
  });
});

describe.skipIf(!hasPostgres())('the database of a team store', () => {
  it('refuses to commit a change that no entry of the trail names, also from its keeper', async () => {
    const keeper = await makeDatabase();
    const analyst = asUser(keeper, await makeUser(ROLES.analyse));
    const addPole = "INSERT INTO stemroot.poles (code, first_seen_at) VALUES ('X', 'now')";
    for (const place of [analyst, keeper]) {
      await expect(run(place, addPole)).rejects.toThrow('A change to poles has no entry in the trail');
    }
    expect(await run(keeper, 'SELECT * FROM stemroot.poles')).toEqual([]);
  });

  it("lends nobody a function that runs with its keeper's rights, to be run by a trigger of one's own", async () => {
    const keeper = await makeDatabase();
    const analyst = asUser(keeper, await makeUser(ROLES.analyse));
    const functions = (await run(
      keeper,
      `SELECT oid::regproc::text AS name FROM pg_proc WHERE pronamespace = 'stemroot'::regnamespace AND prosecdef`,
    )) as { name: string }[];
    expect(functions).toContainEqual({ name: 'stemroot.follow_last_entry' });
    for (const { name } of functions) {
      const own = `CREATE TEMP TABLE own (seq bigint, previous_sha256 text, rows_json text);
        CREATE TRIGGER own BEFORE INSERT ON own FOR EACH ROW EXECUTE FUNCTION ${name}()`;
      await expect(run(analyst, own)).rejects.toThrow(NOT_ALLOWED);
    }
  });

  it('refuses to change, delete or empty what is written once, also from its keeper', async () => {
    const keeper = await makeDatabase();
    await importOne(keeper);
    await expect(run(keeper, "UPDATE stemroot.visits SET file_name = 'x'")).rejects.toThrow(
      'visits are written once and never changed',
    );
    for (const text of ['DELETE FROM stemroot.trail', 'TRUNCATE stemroot.recordings CASCADE']) {
      await expect(run(keeper, text)).rejects.toThrow(/are written once and never deleted/);
    }
  });

  it('refuses an entry that does not follow the last one', async () => {
    const keeper = await makeDatabase();
    const add = (seq: number, previous: string) =>
      run(
        keeper,
        `INSERT INTO stemroot.trail VALUES ($1, 'now', 'me', 'p', 'set', 's', null, null, null, '[]', $2, repeat('f', 64))`,
        [seq, previous],
      );
    await expect(add(2, '0'.repeat(64))).rejects.toThrow(
      'Entry 2 does not follow the last entry of the trail',
    );
    const [{ sha256 }] = (await run(keeper, 'SELECT sha256 FROM stemroot.trail')) as [{ sha256: string }];
    await expect(add(3, sha256)).rejects.toThrow('Entry 3 does not follow');
  });

  it('refuses an entry whose hash is not that of what it holds, and takes every text that can be written', async () => {
    const keeper = await makeDatabase();
    const analyst = asUser(keeper, await makeUser(ROLES.analyse));
    const store = await openTeamStore(analyst);
    onTestFinished(() => store.close());
    const controls = Array.from({ length: 31 }, (_, i) => String.fromCharCode(i + 1)).join('');
    const texts = [
      `${controls}\x7f`,
      '"\\/\\u0041',
      '\u2028\u2029\ufeff\ufffe',
      'é e\u0301 ß 木 🪵',
      '{"a":null}',
    ];
    for (const text of texts) {
      const entry = { action: 'set', subject: text, who: `x${text}`, why: text } as const;
      await store.db.transaction().execute(async (transaction) => {
        await appendTrail(transaction, { ...entry, before: { [text]: text }, after: [text, 1e21, null] });
      });
    }
    const handlers = createWorkspaceService(store);
    const { holds, chain } = await handlers['care.prove']({});
    expect([holds, chain.entries]).toEqual([true, 1 + texts.length]);

    const last = chain.head!;
    const right = composeEntry({ action: 'set', subject: 's' }, [], last);
    for (const wrong of [
      { sha256: 'f'.repeat(64) },
      { who: 'Bob' },
      { why: '' },
      { rows_json: '[ ]' },
      { at: '2026' },
    ]) {
      await expect(addEntry(analyst, { ...right, ...wrong })).rejects.toThrow(
        `The hash of entry ${right.seq} is not that of what it holds`,
      );
    }
    await addEntry(analyst, right);
    expect(await handlers['care.prove']({})).toMatchObject({ holds: true });
  });

  it('refuses an entry that names what its transaction did not write, but of the keeper, who moves a store', async () => {
    const keeper = await makeDatabase();
    await importOne(keeper);
    const analyst = asUser(keeper, await makeUser(ROLES.analyse));
    const [last] = (await run(
      keeper,
      'SELECT seq, sha256 FROM stemroot.trail ORDER BY seq DESC LIMIT 1',
    )) as [{ seq: string; sha256: string }];
    const named: ToldRow = ['poles', '[1]', 'f'.repeat(64)];
    const entry = composeEntry({ action: 'set', subject: 's' }, [named], { ...last, seq: Number(last.seq) });
    await expect(addEntry(analyst, entry)).rejects.toThrow(
      `Entry ${entry.seq} names rows that were not written with it`,
    );
    await addEntry(keeper, entry);
  });

  it('keeps the mark of a move that is not complete for its keeper', async () => {
    const keeper = await makeDatabase();
    const analyst = asUser(keeper, await makeUser(ROLES.analyse));
    const mark = "INSERT INTO stemroot.kept_choices VALUES ('move not complete', '{}', 'now')";
    await expect(run(analyst, mark)).rejects.toThrow(/row-level security/);
    await run(analyst, "INSERT INTO stemroot.kept_choices VALUES ('other', '{}', 'now')");
    await expect(run(analyst, "UPDATE stemroot.kept_choices SET name = 'move not complete'")).rejects.toThrow(
      /row-level security/,
    );
    await run(keeper, mark);
    await run(analyst, 'DELETE FROM stemroot.kept_choices');
    const store = await openTeamStore(analyst);
    expect(store.readOnly).toMatchObject({ code: 'store.moving' });
    await store.close();
  });
});
