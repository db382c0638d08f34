import { sql } from 'kysely';
import { StoreError } from '../../errors.ts';
import { requireWritable } from '../requireWritable.ts';
import type { Store } from '../store.ts';
import type { Head } from './checkSource.ts';
import { UNTOLD_TABLES } from './movedTables.ts';
import { MOVE_MARK } from './moveMark.ts';

/**
 * Looks whether a move may go into a store, and marks one that is empty.
 * @returns number of the entry up to which an earlier move came; 0: none
 * @throws StoreError `move.notEmpty` where it holds something else, `move.done`, `move.other`
 */
export async function checkTarget(source: Store, head: Head, target: Store): Promise<number> {
  requireWritable(target);
  const last = await target.db
    .selectFrom('trail')
    .select(['seq', 'sha256'])
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst();
  const isMarked = await hasMark(target);
  if (last === undefined) {
    if (!isMarked) {
      await requireNoChoices(target);
      await mark(target, source.path);
    }
    return 0;
  }
  if (!isMarked) throw await refuse(source, head, target);
  const same = await source.db
    .selectFrom('trail')
    .select('seq')
    .where('seq', '=', last.seq)
    .where('sha256', '=', last.sha256)
    .executeTakeFirst();
  if (same) return last.seq;
  throw new StoreError(
    'move.other',
    `${target.path} holds part of a move from another workspace than ${source.path}.`,
    'Go on from the one it was begun from, or choose an empty target.',
  );
}

async function hasMark({ db }: Store): Promise<boolean> {
  const row = await db
    .selectFrom('kept_choices')
    .select('name')
    .where('name', '=', MOVE_MARK)
    .executeTakeFirst();
  return row !== undefined;
}

/** A store without any entry holds no rows that the trail covers: neither kind commits one that no entry names. */
async function requireNoChoices(target: Store): Promise<void> {
  for (const { name } of UNTOLD_TABLES) {
    const { rows } = await sql`SELECT 1 FROM ${sql.table(name)} LIMIT 1`.execute(target.db);
    if (rows.length > 0) throw tellNotEmpty(target.path);
  }
}

async function mark({ db }: Store, from: string): Promise<void> {
  await db.transaction().execute((transaction) =>
    transaction
      .insertInto('kept_choices')
      .values({
        name: MOVE_MARK,
        choices_json: JSON.stringify({ from }),
        kept_at: new Date().toISOString(),
      })
      .execute(),
  );
}

/** Tells a store into which this very state was moved from one that holds something else. */
async function refuse(source: Store, head: Head, target: Store): Promise<StoreError> {
  const entries = await target.db
    .selectFrom('trail')
    .select(['seq', 'sha256', 'action'])
    .where('seq', 'in', [head.seq, head.seq + 1])
    .orderBy('seq')
    .execute();
  const [same, told] = entries;
  if (same?.sha256 === head.sha256 && told?.action === 'move') {
    return new StoreError(
      'move.done',
      `${source.path} was moved to ${target.path} already; entry ${told.seq} of the trail there tells so.`,
      'There is nothing left to do.',
    );
  }
  return tellNotEmpty(target.path);
}

function tellNotEmpty(path: string): StoreError {
  return new StoreError(
    'move.notEmpty',
    `${path} holds something else already.`,
    'Move to a file that is not there yet, or into a database that is empty or prepared with: npm run -s stemroot -- team prepare --empty <connection>',
  );
}
