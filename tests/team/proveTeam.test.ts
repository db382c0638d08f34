import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { createWorkspaceService, openTeamStore, ROLES, type TeamStore } from '../../core/workspace/index.ts';
import { createRandomStream, type RandomStream } from '../../samples/random.ts';
import { runCommand } from '../host/runCommand.ts';
import { fillForProof } from '../workspace/fillForProof.ts';
import { forcePast, runPast } from '../workspace/runPast.ts';
import { alter, pick } from '../workspace/tamper.ts';
import { asUser, databaseOf, hasPostgres, makeTeamStore, makeUser, run } from './makeTeamStore.ts';
import { askAsSuperuser, HINDERED_BY_NOTHING } from './superuser.ts';

vi.mock('../../core/assess.ts', async () => (await import('../workspace/fakeChain.ts')).fakeChain);

const CHANGED_CELLS = 30;
const TABLES = [
  ...['poles', 'visits', 'recordings', 'visit_recordings', 'assessments', 'rulings', 'ruling_marks'],
  'trail',
];
/** What the columns' own rules refuse: no JSON, a hash of another form, a name that is there (PostgreSQL 15, appendix A). */
const REFUSED = /check constraint|invalid input syntax|unique constraint|out of range/;

const makeFilled = async () => fillForProof(await makeTeamStore());

describe.skipIf(!hasPostgres())('proof of a team store', () => {
  it('holds for one that is whole, whoever may read it asks, also by command', async () => {
    const { store } = await makeFilled();
    const place = asUser(store.path, await makeUser(ROLES.read));
    const reader = await openTeamStore(place);
    onTestFinished(() => reader.close());
    const proof = await createWorkspaceService(reader)['care.prove']({});
    expect(proof).toMatchObject({ holds: true, rows: [], evidence: [], form: [], recordings: 3, visits: 3 });
    expect(proof.chain).toMatchObject({ entries: 11, faults: [], remarks: [], known: null });
    const { code, out } = await runCommand('care', 'prove', place, '--known', proof.chain.head!.sha256);
    expect([code, out]).toEqual([
      0,
      expect.stringContaining('All is as the trail tells: 11 entries, 3 visit files'),
    ]);
  });

  it(`finds and names each of ${CHANGED_CELLS} cells changed at random, in every table`, async () => {
    const { store, handlers } = await makeFilled();
    const seen = new Set<string>();
    for (let seed = 0, changed = 0; changed < CHANGED_CELLS; seed++) {
      const cell = await changeCell(store, createRandomStream(`cell ${seed}`));
      if (cell === null) continue;
      const { holds, rows, chain, form } = await handlers['care.prove']({});
      const told = [...rows, ...chain.faults].join('\n');
      const name = cell.table === 'trail' ? 'Entr' : `${cell.table} ${cell.key}: `;
      expect({ seed, cell, holds, form, told }).toMatchObject({
        holds: false,
        form: [],
        told: expect.stringContaining(name),
      });
      await cell.undo();
      seen.add(cell.table);
      changed++;
    }
    expect([...seen].sort()).toEqual([...TABLES].sort());
    expect(await handlers['care.prove']({})).toMatchObject({ holds: true });
  });

  it('finds a row that was added, one that is gone, and an entry that is', async () => {
    const { store, handlers } = await makeFilled();
    await forcePast(
      store,
      `INSERT INTO rulings (visit_id, assessment_id, decided_at, analyst, decision, reason)
       VALUES (3, 3, '2026-05-03', 'A. Analyst', 'keep', 'sound'); DELETE FROM ruling_marks WHERE mark_id = 2`,
    );
    expect((await handlers['care.prove']({})).rows).toEqual([
      'rulings [3]: was added past the trail.',
      'ruling_marks [2]: is missing; entry 11 told of it last.',
    ]);
    await forcePast(store, 'DELETE FROM trail WHERE seq = 5');
    expect((await handlers['care.prove']({})).chain.faults).toContain('Entries 5 to 5 are missing.');
  });

  it('tells of a trigger that is switched off, and of one that is gone', async () => {
    const store = await makeTeamStore();
    const handlers = createWorkspaceService(store);
    await run(store.path, 'ALTER TABLE stemroot.rulings DISABLE TRIGGER rulings_never_change');
    expect(await handlers['care.prove']({})).toMatchObject({
      holds: false,
      form: ['The trigger "rulings_never_change" of rulings is switched off.'],
    });
    await run(store.path, 'ALTER TABLE stemroot.rulings ENABLE TRIGGER rulings_never_change');
    await run(store.path, 'ALTER TRIGGER trail_follows ON stemroot.trail RENAME TO other');
    expect((await handlers['care.prove']({})).form).toEqual([
      'The trigger "trail_follows" of trail is missing.',
    ]);
    await run(store.path, 'ALTER TRIGGER other ON stemroot.trail RENAME TO trail_follows');
  });
});

type Column = { name: string; type: string; is_key: boolean };

/** Changes one cell past every trigger. @returns null where the rules of the column itself refuse the value */
async function changeCell(store: TeamStore, random: RandomStream) {
  const table = pick(TABLES, random);
  const columns = (await runPast(
    store,
    `SELECT attname AS name, format_type(atttypid, NULL) AS type, attnum = ANY (indkey) AS is_key
     FROM pg_attribute JOIN pg_index ON indrelid = attrelid AND indisprimary
     WHERE attrelid = '${table}'::regclass AND attnum > 0 AND NOT attisdropped ORDER BY attnum`,
  )) as Column[];
  const rows = (await runPast(store, `SELECT * FROM ${table} ORDER BY 1, 2`)) as Record<string, unknown>[];
  const row = pick(rows, random);
  const { name, type } = pick(columns, random);
  const keys = columns.filter((column) => column.is_key);
  const other = alter(asNumber(row[name], type), type, random);
  const where = (values: Record<string, unknown>) =>
    keys.map((key) => `${key.name} = ${literal(values[key.name])}`).join(' AND ');
  const update = (value: unknown, values: Record<string, unknown>) =>
    askAsSuperuser(
      databaseOf(store.path),
      `${HINDERED_BY_NOTHING} UPDATE ${table} SET ${name} = ${literal(value)} WHERE ${where(values)}`,
    );
  try {
    await update(other, row);
  } catch (error) {
    if (REFUSED.test(String(error))) return null;
    throw error;
  }
  const key = JSON.stringify(keys.map((column) => asNumber(row[column.name], column.type)));
  return { table, column: name, key, undo: () => update(row[name], { ...row, [name]: other }) };
}

/** pg gives whole numbers of 64 bits as text. */
function asNumber(value: unknown, type: string): unknown {
  return type === 'bigint' && value !== null ? Number(value) : value;
}

function literal(value: unknown): string {
  if (value === null) return 'NULL';
  if (value instanceof Uint8Array) return `'\\x${Buffer.from(value).toString('hex')}'`;
  return typeof value === 'number' ? String(value) : `'${String(value).replaceAll("'", "''")}'`;
}
