import { HandleEmptyInListsPlugin, Kysely, replaceWithNoncontingentExpression } from 'kysely';
import type pg from 'pg';
import { StoreError } from '../../errors.ts';
import { type Notice, noticeAsked, noticeMoving, noticeNewer } from '../opening/index.ts';
import type { OpenOptions, StoreCommon } from '../storeCommon.ts';
import type { Tables } from '../tables.ts';
import { teamMigrations } from './migrations/index.ts';
import { nameTeamPlace } from './place.ts';
import { prepareTeamStore } from './prepareTeamStore.ts';
import { readState, type TeamState } from './readState.ts';
import { type Right, ROLES } from './roles.ts';
import { createTeamPool, TeamDialect } from './teamDialect.ts';
import { toTeamError } from './teamErrors.ts';

export type TeamStore = StoreCommon & {
  readonly kind: 'team';
  /** What the database lets this connection do. */
  readonly may: Right;
  readonly pool: pg.Pool;
};

/**
 * Opens the team store of a PostgreSQL database, on connections of its own.
 * @param place - a connection string; a password may also come from PGPASSWORD or ~/.pgpass
 * @param options - `create` prepares a database that holds no team store yet; `sharedLock` has no meaning here: any number may write
 * @throws StoreError `store.place`, `store.missing`, `store.form`, `store.notAllowed`, `store.open`
 */
export async function openTeamStore(place: string, options: OpenOptions = {}): Promise<TeamStore> {
  const path = nameTeamPlace(place);
  let state = await lookAt(place, path);
  if (state.form === 0 && options.create) {
    await prepareTeamStore(place, { empty: options.moving ?? false });
    state = await lookAt(place, path);
  }
  const may = checkState(state, path);
  const readOnly = findHindrance(path, state, may, options);
  const pool = createTeamPool(place);
  const db = new Kysely<Tables>({
    dialect: new TeamDialect({ pool, readOnly }),
    // `IN ()` finds nothing in SQLite and is no SQL for PostgreSQL
    plugins: [new HandleEmptyInListsPlugin({ strategy: replaceWithNoncontingentExpression })],
  });
  return {
    kind: 'team',
    path,
    db,
    pool,
    may,
    readOnly,
    notices: readOnly ? [readOnly] : [],
    forThreads: { path: place, options: { ...(options.readOnly && { readOnly: true }) } },
    close: () => db.destroy(),
  };
}

async function lookAt(place: string, path: string): Promise<TeamState> {
  const db = new Kysely<Tables>({
    dialect: new TeamDialect({
      pool: createTeamPool(place, { most: 1 }),
      readOnly: noticeAsked(path),
    }),
  });
  try {
    return await readState(db);
  } catch (error) {
    throw toTeamError(error, path);
  } finally {
    await db.destroy();
  }
}

/** @returns what may be done */
function checkState({ form, may }: TeamState, path: string): Right {
  if (form === 0) {
    throw new StoreError(
      'store.missing',
      `There is no team store in ${path}.`,
      'Check the name of the database, or make the store with: npm run -s stemroot -- team prepare <connection>',
    );
  }
  if (form === null || may === null) {
    throw new StoreError(
      'store.notAllowed',
      `${path} holds a team store that this connection may not read.`,
      `Ask the one who keeps it to make you a member of ${ROLES.read}, ${ROLES.analyse} or ${ROLES.publish}.`,
    );
  }
  if (form < teamMigrations.length) {
    throw new StoreError(
      'store.form',
      `${path} is of an older form (${form}, this program writes ${teamMigrations.length}).`,
      'The one who keeps it brings it forward with: npm run -s stemroot -- team prepare <connection>',
    );
  }
  return may;
}

function findHindrance(
  path: string,
  { form, movedInPart }: TeamState,
  may: Right,
  { readOnly, moving }: OpenOptions,
): Notice | null {
  if (form! > teamMigrations.length) return noticeNewer(path, form!, teamMigrations.length);
  if (may === 'read') {
    return {
      code: 'store.reader',
      message: `This connection may read ${path} and not change it.`,
      hint: `To work in it, ask the one who keeps it to make you a member of ${ROLES.analyse}.`,
    };
  }
  if (readOnly) return noticeAsked(path);
  return movedInPart && !moving ? noticeMoving(path) : null;
}
