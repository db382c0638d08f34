import fc from 'fast-check';
import { sql } from 'kysely';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { z } from 'zod';
import { NEED_KINDS, registerQuerySchema } from '../../core/workspace/contract/registerCalls.ts';
import {
  createWorkspaceService,
  openWorkspace,
  type RegisterRow,
  readExportRows,
  type Store,
} from '../../core/workspace/index.ts';
import { ROW_INDEXES } from '../../core/workspace/migrations/20261127T170000_register.ts';
import { createFinder } from '../../core/workspace/register/findVisits.ts';
import { openRegister } from '../../core/workspace/register/openRegister.ts';
import { countAstrayRanges, makeRanges } from '../../core/workspace/register/ranges.ts';
import { dropRowIndexes } from '../../core/workspace/register/rowIndexes.ts';
import { sortablePole } from '../../core/workspace/register/sortablePole.ts';
import { isTeam } from '../../core/workspace/sqlWords.ts';
import { createInventor, storedThing } from './inventRegister.ts';
import { makeStore } from './visitFixture.ts';

const SORTS = ['f1', 'date', 'pole'].flatMap((key) =>
  [true, false].map((descending) => ({ key, descending })),
);

type Query = z.output<typeof registerQuerySchema>;

const KEYS = registerQuerySchema.shape.sort.unwrap().shape.key.options;
const VERDICTS = registerQuerySchema.shape.verdicts.unwrap().element.options;
/** Words and parts of words: of names, dates, faults, findings, rulings, and such as stand nowhere. */
const WORDS = [
  'tv',
  'TV-',
  '-2',
  'TV-10',
  '2026-05',
  'pine',
  'CLIP',
  'fir',
  'mode',
  '100 %',
  'nalyst',
  '_',
  'ä-',
  'x',
  '"',
  '* keep',
];

const query: fc.Arbitrary<Query> = fc.record({
  search: fc.array(fc.constantFrom(...WORDS), { maxLength: 3 }).map((words) => words.join(' ')),
  sort: fc.record({ key: fc.constantFrom(...KEYS), descending: fc.boolean() }),
  ruled: fc.constantFrom('any', 'waiting', 'ruled'),
  reasons: fc.subarray([...NEED_KINDS], { maxLength: 2 }),
  verdicts: fc.subarray([...VERDICTS], { maxLength: 2 }),
  species: fc.constantFrom([], ['red-pine'], ['red-pine', 'douglas-fir']),
  latestOnly: fc.boolean(),
});

/** The same answers from rows held in memory, by pole and date. */
function findInMemory(rows: readonly RegisterRow[], asked: Query): RegisterRow[] {
  const words = asked.search.toLowerCase().split(/\s+/).filter(Boolean);
  const found = rows.filter(
    (row) =>
      (asked.ruled === 'any' || (row.ruling !== null) === (asked.ruled === 'ruled')) &&
      (!asked.latestOnly || row.standing === 'latest') &&
      (asked.reasons.length === 0 || row.need.reasons.some(({ kind }) => asked.reasons.includes(kind))) &&
      (asked.verdicts.length === 0 || asked.verdicts.includes(row.verdict)) &&
      (asked.species.length === 0 || asked.species.includes(row.species)) &&
      words.every((word) => tellWords(row).includes(word)),
  );
  const { key, descending } = asked.sort;
  const turn = descending ? -1 : 1;
  const places = new Map(found.map((row, place) => [row, place]));
  const byPlace = (a: RegisterRow, b: RegisterRow) => places.get(a)! - places.get(b)!;
  if (key === 'pole') return found.sort((a, b) => turn * byPlace(a, b));
  // equal ones stand by pole: always, or in the direction in which a column is mostly read and the other way round in the other
  const tieTurn = key === 'verdict' || descending === ['need', 'date', 'ruling'].includes(key) ? 1 : -1;
  return found.sort((a, b) => {
    const [x, y] = [readValue(a, key), readValue(b, key)];
    if (x === null || y === null) return Number(x === null) - Number(y === null) || byPlace(a, b);
    if (x !== y) return x < y ? -turn : turn;
    return (key === 'need' && x === 0 ? 1 : tieTurn) * byPlace(a, b);
  });
}

function tellWords(row: RegisterRow): string {
  const bare = (name: string) => name.replaceAll('-', ' ');
  return [
    row.poleId,
    bare(row.species),
    row.classCode ? `class ${row.classCode}` : '',
    row.date,
    row.verdict,
    row.identifiability ?? '',
    ...row.need.reasons.map(({ words }) => words),
    ...row.strikes.faults.map(bare),
    row.ruling ? `${row.ruling.decision} ${row.ruling.analyst} ${row.ruling.reason}` : '',
    ...row.findings.map(({ id, text }) =>
      id === 'section-not-inspected' ? bare(id) : `${bare(id)} ${text}`,
    ),
  ]
    .join('\n')
    .toLowerCase();
}

function readValue(row: RegisterRow, key: Query['sort']['key']): string | number | null {
  const { capacityNm, thresholdNm } = row;
  const values: Record<string, string | number | null | undefined> = {
    need: row.need.score,
    date: row.date,
    verdict: row.verdict,
    f1: row.frequenciesHz[0],
    f2: row.frequenciesHz[1],
    f3: row.frequenciesHz[2],
    modulus: row.modulusPa,
    fixity: row.fixity,
    capacity: capacityNm?.value,
    requirement: row.requirementNm,
    chance: row.chanceBelow,
    threshold: capacityNm && thresholdNm ? capacityNm.value / thresholdNm : null,
    thresholdChance: row.chanceBelowThreshold,
    ruling: row.ruling?.decidedAt,
  };
  return values[key] ?? null;
}

async function computeRows(store: Store): Promise<RegisterRow[]> {
  const rows: RegisterRow[] = [];
  for await (const part of readExportRows(store.db)) rows.push(...part.map(({ row }) => row));
  const byName = (a: string, b: string) => (sortablePole(a) < sortablePole(b) ? -1 : 1);
  return rows.sort(
    (a, b) =>
      (a.poleId === b.poleId ? 0 : byName(a.poleId, b.poleId)) ||
      a.date.localeCompare(b.date) ||
      a.visitId - b.visitId,
  );
}

/** Has one store grow and asks it after each growth: the same as rows computed anew and searched in memory. */
async function compareAnswers(store: Store, { numRuns }: { numRuns: number }): Promise<void> {
  const register = openRegister(store);
  const invent = createInventor(store);
  const growth = fc.array(fc.tuple(storedThing, fc.boolean()), { minLength: 1, maxLength: 12 });
  await fc.assert(
    fc.asyncProperty(growth, fc.array(query, { minLength: 8, maxLength: 8 }), async (things, queries) => {
      for (const [thing, refresh] of things) await invent(thing, { refresh });
      expect(await register.settleSoon()).toBe(0);
      const rows = await computeRows(store);
      for (const asked of queries) {
        const wanted = findInMemory(rows, asked);
        const found = await register.find(asked);
        const read = await register.read(await found.read(0, 500));
        expect(read).toEqual(wanted);
        expect([found.total, found.matching]).toEqual([rows.length, wanted.length]);
        const [offset, limit] = [Math.floor(wanted.length * 0.7), 3];
        const page = wanted.slice(offset, offset + limit).map(({ visitId }) => visitId);
        expect(await found.read(offset, limit)).toEqual(page);
        for (const { visitId } of rows.slice(0, 5)) {
          const place = wanted.findIndex((row) => row.visitId === visitId);
          expect(await found.locate(visitId)).toBe(place < 0 ? null : place);
        }
      }
      const ofVerdict = Map.groupBy(rows, ({ verdict }) => verdict);
      const { verdicts } = await register.count();
      expect(new Map(verdicts.map(({ value, visits }) => [value, visits]))).toEqual(
        new Map([...ofVerdict].map(([verdict, own]) => [verdict, own.length])),
      );
    }),
    // one store grows over all runs: an earlier one cannot be run again to make it smaller
    { numRuns, endOnFailure: true },
  );
}

describe('the stored register', () => {
  it('answers as rows computed anew and searched in memory do, whatever was stored', async () => {
    await compareAnswers(await makeStore(), { numRuns: 10 });
  });
});

describe('a long register', () => {
  const VISITS = 10_050;
  const facet = { species: 'red-pine', verdict: 'assessed', isRuled: false, isLatest: true, reasons: [] };

  /** Rows of the register alone: every tenth visit has no f1. */
  async function makeLong(): Promise<Store> {
    const store = await makeStore();
    const facets = [['date', 'f1'], ['date']].map((holds, i) => ({
      facet_id: i + 1,
      facet_sha256: String(i),
      facet_json: JSON.stringify({ ...facet, holds, words: 'red' }),
      visits: VISITS * (i === 0 ? 0.9 : 0.1),
    }));
    await store.db.insertInto('register_facets').values(facets).execute();
    await sql`
      WITH RECURSIVE numbers (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM numbers WHERE n < ${sql.lit(VISITS)})
      INSERT INTO register_rows (visit_id, place, facet_id, measured_on, f1, own_words)
      SELECT n, CAST(20000 + n AS TEXT), CASE WHEN n % 10 = 0 THEN 2 ELSE 1 END, '2026-05-03',
        CASE WHEN n % 10 = 0 THEN NULL ELSE ${sql.lit(VISITS)} - n END, 'lr-' || n FROM numbers`.execute(
      store.db,
    );
    if (store.kind === 'file') {
      await sql`INSERT INTO register_search (rowid, own_words) SELECT visit_id, own_words FROM register_rows`.execute(
        store.db,
      );
    }
    await store.db.updateTable('register_state').set({ revision: 7 }).execute();
    return store;
  }

  it('does not count words that very many have: the first of the order are read, all of them where the whole is asked for', async () => {
    const store = await makeLong();
    const finder = createFinder(store.db);
    const numbers = Array.from({ length: VISITS }, (_, i) => i + 1);
    const byF1 = [...numbers.filter((n) => n % 10 !== 0).reverse(), ...numbers.filter((n) => n % 10 === 0)];
    for (const search of ['lr-', 'red lr', 'R']) {
      const asked = registerQuerySchema.parse({ search, sort: { key: 'f1', descending: false } });
      const cut = await finder.find(asked);
      const every = search === 'R';
      const moreThan = { 'lr-': 5000, 'red lr': 1000, R: null }[search];
      expect([cut.moreThan, cut.matching, cut.total]).toEqual([moreThan, every ? VISITS : 1000, VISITS]);
      expect(await cut.read(0, 100)).toEqual(byF1.slice(0, 100));
      expect(await cut.read(950, 100)).toEqual(byF1.slice(950, every ? 1050 : 1000));
      expect(await cut.locate(byF1[700]!)).toBe(700);
      expect(await cut.locate(byF1[1200]!)).toBe(every ? 1200 : null);
      const whole = await finder.find(asked, { whole: true });
      expect([whole.moreThan, whole.matching]).toEqual([null, VISITS]);
      expect(await whole.read(0, VISITS)).toEqual(byF1);
    }
    const rare = await finder.find(registerQuerySchema.parse({ search: 'lr-1005' }));
    expect([rare.moreThan, rare.matching]).toEqual([null, 2]);
    // a long word and one that is shorter than the pieces of the index
    const both = await finder.find(registerQuerySchema.parse({ search: 'lr-1 99' }));
    const named = numbers.filter((n) => `lr-${n}`.includes('lr-1') && `${n}`.includes('99'));
    expect([both.moreThan, both.matching]).toEqual([null, named.length]);
  });

  it('is read the same from any place to any other, both ways', async () => {
    const store = await makeLong();
    const finder = createFinder(store.db);
    for (const sort of SORTS) {
      const found = await finder.find(registerQuerySchema.parse({ sort }));
      const whole = await found.read(0, VISITS);
      expect(new Set(whole).size).toBe(VISITS);
      for (const offset of [6000, 6050, 5950, 5000, 9500, 10_400, 400, 6001, VISITS - 20]) {
        const wanted = whole.slice(offset, offset + 50);
        expect(await found.read(offset, 50), `${sort.key} at ${offset}`).toEqual(wanted);
      }
    }
  });

  it('has the place of a visit counted from either end and from what was read before, with words and without', async () => {
    const store = await makeLong();
    for (const [sort, search] of SORTS.flatMap((by) => ['', 'red'].map((words) => [by, words] as const))) {
      const query = registerQuerySchema.parse({ sort, search });
      const whole = await (await createFinder(store.db).find(query)).read(0, VISITS);
      for (const read of [null, 0, 3000, 9000]) {
        for (const place of [0, 600, 2900, 4800, 5200, 8900, 9600, VISITS - 1]) {
          const found = await createFinder(store.db).find(query);
          if (read !== null) await found.read(read, 1);
          const words = JSON.stringify({ sort, search, read, place });
          expect(await found.locate(whole[place]!), words).toBe(place);
        }
      }
    }
  });

  it('is counted by ranges in a team store, and read by them, also once it was changed', async () => {
    const store = await makeLong();
    if (store.kind === 'file') return;
    await makeRanges(store.db, { fewest: VISITS });
    expect((await store.db.selectFrom('register_bounds').selectAll().execute()).length).toBeGreaterThan(100);
    expect(await countAstrayRanges(store.db)).toBe(0);
    for (const change of [
      `UPDATE register_rows SET f1 = 2 * f1, measured_on = '2025-01-01' WHERE visit_id % 13 = 0`,
      'UPDATE register_rows SET f1 = NULL, facet_id = 2 WHERE visit_id % 29 = 0',
      'DELETE FROM register_rows WHERE visit_id % 31 = 0',
      `INSERT INTO register_rows (visit_id, place, facet_id, measured_on, f1, own_words)
        SELECT 1000000 + n, CAST(10000 + 3 * n AS TEXT), 1, '2026-06-01', n, '' FROM generate_series(1, 50) AS n`,
      `UPDATE register_facets SET visits =
        (SELECT count(*) FROM register_rows WHERE register_rows.facet_id = register_facets.facet_id)`,
    ])
      await sql.raw(change).execute(store.db);
    expect(await countAstrayRanges(store.db)).toBe(0);
    const finder = createFinder(store.db);
    for (const sort of SORTS) {
      const found = await finder.find(registerQuerySchema.parse({ sort }));
      const whole = await found.read(0, found.matching);
      expect(new Set(whole).size).toBe(found.matching);
      for (const share of [0.3, 0.5, 0.7, 0.301]) {
        const offset = Math.floor(share * found.matching);
        expect(await found.read(offset, 50), JSON.stringify(sort)).toEqual(whole.slice(offset, offset + 50));
        expect(await found.locate(whole[offset]!), JSON.stringify(sort)).toBe(offset);
      }
    }
    await sql`UPDATE register_counts SET visits = visits + 1 WHERE range_number = 7 AND column_name = 'place'`.execute(
      store.db,
    );
    expect(await countAstrayRanges(store.db)).toBeGreaterThan(0);
  });
});

/** Of those that both databases have. */
async function countIndexes(store: Store): Promise<number> {
  const { rows } = await (store.kind === 'team'
    ? sql<{ name: string }>`SELECT indexname AS name FROM pg_indexes WHERE tablename = 'register_rows'`
    : sql<{
        name: string;
      }>`SELECT name FROM sqlite_schema WHERE type = 'index' AND tbl_name = 'register_rows'`
  ).execute(store.db);
  return rows.filter(({ name }) => name in ROW_INDEXES).length;
}

describe('a register that somebody changed', () => {
  async function makeFilled() {
    const store = await makeStore();
    const invent = createInventor(store);
    for (const thing of fc.sample(storedThing, { numRuns: 30, seed: 9 })) {
      await invent(thing, { refresh: true });
    }
    return store;
  }

  it.each([
    ["UPDATE register_texts SET row_json = '{}' WHERE visit_id = 1", { differing: 1, astray: 0 }],
    ["UPDATE register_rows SET own_words = 'x' WHERE visit_id = 1", { differing: 1, astray: 0 }],
    ['DELETE FROM register_rows WHERE visit_id = 1', { differing: 1, astray: 1 }],
    [
      'UPDATE register_facets SET visits = visits + 1 WHERE facet_id = (SELECT max(facet_id) FROM register_facets)',
      { differing: 0, astray: 1 },
    ],
    ["INSERT INTO register_texts VALUES (999, '{}')", { differing: 0, astray: 1 }],
  ])('is found out and computed anew: %s', async (change, found) => {
    const store = await makeFilled();
    const handlers = createWorkspaceService(store);
    const before = await handlers['register.list']({});
    expect(await handlers['care.register']({ rebuild: false })).toMatchObject({ differing: 0, astray: 0 });
    await sql.raw(change).execute(store.db);
    expect(await handlers['care.register']({ rebuild: false })).toMatchObject({ ...found, rebuilt: false });
    expect(await handlers['care.register']({ rebuild: true })).toMatchObject({
      differing: 0,
      astray: 0,
      rebuilt: true,
    });
    expect(await handlers['register.list']({})).toEqual(before);
  });

  it('in what its search goes by alone is found out in a file, where that is a table of its own', async () => {
    const store = await makeFilled();
    if (isTeam(store.db)) return;
    const handlers = createWorkspaceService(store);
    expect(await handlers['care.register']({ rebuild: false })).toMatchObject({ astrayPieces: 0 });
    await sql`DELETE FROM register_search WHERE rowid = 1`.execute(store.db);
    await sql`INSERT INTO register_search (rowid, own_words) VALUES (2, 'zzz')`.execute(store.db);
    const found = await handlers['care.register']({ rebuild: false });
    expect(found).toMatchObject({ differing: 0, astray: 0 });
    expect(found.astrayPieces).toBeGreaterThan(1);
    expect(await handlers['care.register']({ rebuild: true })).toMatchObject({ astrayPieces: 0 });
  });

  it('and whose indexes are away answers as before, and has them made again with the next change', async () => {
    const store = await makeFilled();
    const handlers = createWorkspaceService(store);
    const asked = registerQuerySchema.parse({ search: 'tv', sort: { key: 'f1', descending: true } });
    const before = await handlers['register.query']({ ...asked, offset: 0, limit: 500 });
    expect(before.matching).toBeGreaterThan(3);
    await store.db.transaction().execute(dropRowIndexes);
    expect(await countIndexes(store)).toBe(0);
    const reader = await openWorkspace(store.forThreads.path, { readOnly: true });
    onTestFinished(() => reader.close());
    const answer = await createWorkspaceService(reader)['register.query']({
      ...asked,
      offset: 0,
      limit: 500,
    });
    expect(answer.rows).toEqual(before.rows);
    await sql`INSERT INTO register_stale VALUES (1)`.execute(store.db);
    await handlers['workspace.describe']({});
    expect(await countIndexes(store)).toBe(Object.keys(ROW_INDEXES).length);
  });

  it('and rows of an earlier program are computed anew, a register that can only be read is said to lack them', async () => {
    const store = await makeFilled();
    const wanted = await createWorkspaceService(store)['register.list']({});
    await sql`UPDATE register_texts SET row_json = '{}'`.execute(store.db);
    await sql`UPDATE register_state SET composition = 0`.execute(store.db);
    const reader = await openWorkspace(store.forThreads.path, { readOnly: true });
    onTestFinished(() => reader.close());
    const reading = createWorkspaceService(reader);
    await expect(reading['register.list']({})).rejects.toThrow(
      /lacks \d+ poles, and it can only be read here/,
    );
    expect(await createWorkspaceService(store)['register.list']({})).toEqual(wanted);
    expect(await reading['register.list']({})).toEqual(wanted);
  });
});
