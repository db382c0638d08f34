import { setImmediate } from 'node:timers/promises';
import { type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import { COMPOSITION } from './composition.ts';
import { dropRanges, makeRanges } from './ranges.ts';
import { refreshPoles } from './refreshPoles.ts';
import { dropRowIndexes, makeRowIndexes } from './rowIndexes.ts';

type Db = Kysely<Tables>;

/** Poles that one step brings up to date: some tens of milliseconds, in which nobody else can write. */
const POLES_A_STEP = 200;
/** Where nobody waits for anything else, larger steps write each page of the indexes less often. */
const POLES_A_LARGE_STEP = 2000;
/** Of fewer, nobody notices what the indexes cost. */
const FEWEST_WITHOUT_INDEXES = 5000;

/** Poles that are not in the register as they stand. */
export async function countStale(db: Db): Promise<number> {
  const { poles } = await ((await isOfThisProgram(db))
    ? db.selectFrom('register_stale').select(({ fn }) => fn.countAll<number>().as('poles'))
    : db.selectFrom('poles').select(({ fn }) => fn.countAll<number>().as('poles'))
  ).executeTakeFirstOrThrow();
  return poles;
}

export async function isSettled(db: Db): Promise<boolean> {
  const { rows } = await sql<{ composition: number; stale: number | null }>`
    SELECT composition, (SELECT pole_id FROM register_stale LIMIT 1) AS stale FROM register_state`.execute(
    db,
  );
  return rows[0]!.composition >= COMPOSITION && rows[0]!.stale === null;
}

/**
 * Brings the rows of noted poles up to date, step by step, each in a transaction of its own: after a store was brought to a newer
 * form, after a change of a great many visits, or where this program composes rows otherwise than the one before. What was done
 * stays done where it is broken off.
 * @param options.isAlone - nobody waits meanwhile for anything else @default false
 * @param options.tell - called after each step with the number of poles that are left
 */
export async function settleRegister(
  db: Db,
  { isAlone = false, tell }: { isAlone?: boolean; tell?: (left: number) => void } = {},
): Promise<void> {
  if (!(await isOfThisProgram(db))) await db.transaction().execute(noteAllPoles);
  if (await isMostStale(db)) {
    await db.transaction().execute(async (transaction) => {
      await dropRanges(transaction);
      await dropRowIndexes(transaction);
    });
  }
  const polesAStep = isAlone ? POLES_A_LARGE_STEP : POLES_A_STEP;
  while (!(await isSettled(db))) {
    // before the last step: where this is broken off, something is left that brings it here again
    if ((await countStale(db)) <= polesAStep) await makeRowIndexes(db);
    await db.transaction().execute(async (transaction) => {
      const stale = await transaction
        .selectFrom('register_stale')
        .select('pole_id')
        .orderBy('pole_id')
        .limit(polesAStep)
        .execute();
      await refreshPoles(
        transaction,
        stale.map(({ pole_id }) => pole_id),
      );
    });
    tell?.(await countStale(db));
    await setImmediate();
  }
  // whoever else settled meanwhile may have taken the last step without them
  await makeRowIndexes(db);
  await makeRanges(db);
}

/** Has every row computed anew by whoever settles the register next. */
export async function noteAllPoles(transaction: Db): Promise<void> {
  await sql`INSERT INTO register_stale SELECT pole_id FROM poles WHERE true ON CONFLICT DO NOTHING`.execute(
    transaction,
  );
  await transaction
    .updateTable('register_state')
    .set({ composition: COMPOSITION, revision: sql`revision + 1` })
    .execute();
}

/** True where so much is to be written that the indexes are better made afterwards. */
async function isMostStale(db: Db): Promise<boolean> {
  const stale = await countStale(db);
  if (stale < FEWEST_WITHOUT_INDEXES) return false;
  const { poles } = await db
    .selectFrom('poles')
    .select(({ fn }) => fn.countAll<number>().as('poles'))
    .executeTakeFirstOrThrow();
  return stale > poles / 2;
}

/** False where rows may be of an earlier program, or none was ever computed. */
async function isOfThisProgram(db: Db): Promise<boolean> {
  const state = await db.selectFrom('register_state').select('composition').executeTakeFirstOrThrow();
  return state.composition >= COMPOSITION;
}
