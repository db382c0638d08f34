import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, it, vi } from 'vitest';
import { type FileStore, moveStore, openWorkspace, ROLES } from '../../core/workspace/index.ts';
import { runCommand } from '../host/runCommand.ts';
import { forceFile, forcePast } from '../workspace/runPast.ts';
import { makeFileStore, makeFolder } from '../workspace/visitFixture.ts';
import { addPoles, fillEveryTable } from './fillEveryTable.ts';
import { asUser, hasPostgres, makeDatabase, makeTeamStore, makeUser, run } from './makeTeamStore.ts';

vi.mock('../../core/assess.ts', async () => (await import('../workspace/fakeChain.ts')).fakeChain);

const MOVE_AND_DIE = fileURLToPath(new URL('./moveAndDie.ts', import.meta.url));
/** More than one change takes. */
const MANY = 110;
/** Two programs are started, which a busy machine takes its time for. */
const LONGEST_MS = 180_000;

/** Poles that the register does not show as they are. */
const STALE = 'SELECT count(*)::int AS poles FROM stemroot.register_stale';

const makePath = () => join(makeFolder(), 'moved.stemroot');
const makeEmpty = () => makeDatabase({ prepared: false });

/** A closed workspace file with rows in every table. */
async function makeFilledFile({ poles = 0 } = {}): Promise<string> {
  const store: FileStore = await fillEveryTable(makeFileStore());
  await addPoles(store, poles);
  await store.close();
  return store.path;
}

/** Every row of every table of a file but those that are computed from the others, and the last identity given in each. */
function readAll(path: string): Record<string, unknown[]> {
  const database = new Database(path, { readonly: true });
  const names = database
    .prepare(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'register!_%' ESCAPE '!' ORDER BY name",
    )
    .pluck()
    .all() as string[];
  const all = names.map((name) => [name, database.prepare(`SELECT * FROM "${name}" ORDER BY 1, 2`).all()]);
  database.close();
  return Object.fromEntries(all);
}

function change(path: string, text: string): void {
  const database = new Database(path);
  forceFile(database, text);
  database.close();
}

/** Breaks a move off after the first rows that are stored. */
async function breakOff(from: string, to: string): Promise<void> {
  const controller = new AbortController();
  const moved = await moveStore(from, to, {
    signal: controller.signal,
    onProgress: () => controller.abort(),
  });
  expect(moved).toMatchObject({ completed: false });
}

describe.skipIf(!hasPostgres())('moving a workspace', () => {
  it('into a team store and back leaves every row and the chain as they were, and tells of both moves', async () => {
    const [from, place, back] = [await makeFilledFile(), await makeEmpty(), makePath()];
    const { code, out } = await runCommand('move', from, place);
    expect([code, out]).toEqual([0, expect.stringContaining('Both hold the same')]);
    expect(await run(place, STALE)).toEqual([{ poles: 0 }]);
    expect((await runCommand('care', 'register', place)).code).toBe(0);
    expect((await runCommand('care', 'prove', place)).code).toBe(0);
    expect((await runCommand('move', place, back)).code).toBe(0);
    expect((await runCommand('care', 'register', back)).code).toBe(0);
    expect((await runCommand('care', 'prove', back)).code).toBe(0);

    const [{ trail: before, ...rows }, { trail: after, ...rowsBack }] = [readAll(from), readAll(back)];
    for (const [table, found] of Object.entries(rows)) expect([table, found.length]).not.toEqual([table, 0]);
    expect(rowsBack).toEqual(rows);
    expect(after!.slice(0, before!.length)).toEqual(before);
    const told = after!.slice(before!.length) as { action: string; after_json: string }[];
    expect(told.map(({ action, after_json }) => [action, JSON.parse(after_json)])).toEqual([
      ['move', { from, lastEntry: before!.length, sha256: (before!.at(-1) as { sha256: string }).sha256 }],
      ['move', expect.objectContaining({ lastEntry: before!.length + 1 })],
    ]);
    // work goes on there: identities follow on those given before, also on one that is gone
    const store = await openWorkspace(place);
    await addPoles(store, 1);
    await store.close();
    expect(await run(place, 'SELECT pole_id::int AS id FROM stemroot.poles ORDER BY 1 DESC LIMIT 1')).toEqual(
      [{ id: 5 }],
    );
    expect(await run(place, "SELECT nextval('stemroot.quiz_scores_score_id_seq')::int AS id")).toEqual([
      { id: 3 },
    ]);
  });

  it.each([['into a team store'], ['out of a team store']])(
    'goes on after it was killed without warning, %s',
    async (way) => {
      let from = await makeFilledFile({ poles: MANY });
      let to = await makeEmpty();
      if (way === 'out of a team store') {
        await moveStore(from, to);
        [from, to] = [to, makePath()];
      }
      const [, signal] = await once(
        spawn(process.execPath, [MOVE_AND_DIE, from, to], { stdio: 'inherit' }),
        'exit',
      );
      expect(signal).toBe('SIGKILL');
      const part = await openWorkspace(to);
      expect(part.readOnly).toMatchObject({ code: 'store.moving', message: /moved here only in part/ });
      const { entries } = await part.db
        .selectFrom('trail')
        .select((table) => table.fn.countAll<number>().as('entries'))
        .executeTakeFirstOrThrow();
      await part.close();
      let wanted = 0;
      const moved = await moveStore(from, to, {
        onStart: (left) => {
          wanted = left;
        },
      });
      if (!moved.completed) throw new Error('not completed');
      expect([entries > 0, wanted]).toEqual([true, moved.compared.head.seq - entries]);
      expect((await runCommand('care', 'prove', to)).code).toBe(0);
      const whole = await openWorkspace(to);
      expect(whole.readOnly).toBeNull();
      await whole.close();
    },
    LONGEST_MS,
  );

  it('finds a row that was changed before it came over, one changed after, and one changed there', async () => {
    const from = await makeFilledFile({ poles: MANY });
    const to = await makeEmpty();
    await breakOff(from, to);
    change(from, "UPDATE poles SET code = 'other' WHERE code = 'P-109'");
    await expect(moveStore(from, to)).rejects.toMatchObject({
      code: 'move.changed',
      message: /row \[113\] of poles/,
    });
    change(from, "UPDATE poles SET code = 'P-109' WHERE code = 'other'");
    change(from, "UPDATE poles SET code = 'other' WHERE code = 'TV-0001'");
    await expect(moveStore(from, to)).rejects.toMatchObject({
      code: 'move.faulty',
      message: /test\.stemroot does not stand .* poles \[1\]: was changed/,
    });
    change(from, "UPDATE poles SET code = 'TV-0001' WHERE code = 'other'");
    const there = await openWorkspace(to);
    await forcePast(there, "UPDATE rulings SET reason = 'other' WHERE ruling_id = 1");
    await expect(moveStore(from, to)).rejects.toMatchObject({
      code: 'move.faulty',
      message: /postgresql.* rulings \[1\]: was changed/,
    });
    await forcePast(there, "UPDATE rulings SET reason = 'soft root' WHERE ruling_id = 1");
    await there.close();
    expect(await moveStore(from, to)).toMatchObject({ completed: true });
  });

  it('notices that a team worked on meanwhile, and brings the rest when asked again', async () => {
    const source = await makeTeamStore();
    await addPoles(source, 3);
    const to = makePath();
    const pending: Promise<void>[] = [];
    const moving = moveStore(source.path, to, { onCompare: () => void pending.push(addPoles(source, 1, 3)) });
    const refused = await moving.then(
      () => null,
      (error: unknown) => error,
    );
    await Promise.all(pending);
    expect(refused).toMatchObject({ code: 'move.changed' });
    expect(await moveStore(source.path, to)).toMatchObject({
      completed: true,
      compared: { head: { seq: 5 } },
    });
    expect(readAll(to).poles).toHaveLength(4);
  });

  it('refuses a target that holds something else, was moved to already, or holds part of another move', async () => {
    const [from, other] = [await makeFilledFile({ poles: MANY }), await makeFilledFile({ poles: MANY })];
    await expect(moveStore(from, await makeDatabase())).rejects.toMatchObject({ code: 'move.notEmpty' });
    await expect(moveStore(from, other)).rejects.toMatchObject({ code: 'move.notEmpty' });
    const to = makePath();
    await breakOff(from, to);
    await expect(moveStore(other, to)).rejects.toMatchObject({ code: 'move.other' });
    await expect(moveStore(to, makePath())).rejects.toMatchObject({ code: 'store.moving' });
    await moveStore(from, to);
    await expect(moveStore(from, to)).rejects.toMatchObject({ code: 'move.done' });
  });

  it('refuses a source that is in use, that is not there, or whose chain does not hold', async () => {
    const from = await makeFilledFile();
    const user = await openWorkspace(from);
    await expect(moveStore(from, makePath())).rejects.toMatchObject({ code: 'store.inUse' });
    await user.close();
    await expect(moveStore(makePath(), makePath())).rejects.toMatchObject({ code: 'store.missing' });
    change(from, "UPDATE trail SET who = 'other' WHERE seq = 5");
    await expect(moveStore(from, makePath())).rejects.toMatchObject({
      code: 'move.faulty',
      message: /Entry 5 .* was changed/,
    });
  });

  it('is for the keeper alone, whoever else may publish', async () => {
    const from = await makeFilledFile();
    const empty = await makeEmpty();
    const { code, error } = await runCommand('team', 'prepare', '--empty', empty);
    expect([code, error]).toEqual([0, '']);
    const publisher = asUser(empty, await makeUser(ROLES.publish));
    await expect(moveStore(from, publisher)).rejects.toMatchObject({ code: 'move.notKeeper' });
    await moveStore(from, empty);
    await expect(moveStore(publisher, makePath())).rejects.toMatchObject({ code: 'move.notKeeper' });
  });
});
