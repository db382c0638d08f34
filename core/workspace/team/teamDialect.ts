import {
  CompiledQuery,
  type DatabaseConnection,
  type Driver,
  PostgresDialect,
  PostgresDriver,
  type TransactionSettings,
} from 'kysely';
import pg from 'pg';
import { StoreError } from '../../errors.ts';
import type { Notice } from '../opening/index.ts';
import { requireWritable } from '../requireWritable.ts';
import { WRITER_LOCK } from './migrations/20261127T063000_trail.ts';

/** Nothing that one statement does here takes as long, but a recompute of a great many poles. */
const STATEMENT_TIMEOUT = '5min';
/** How long a writer waits for others: each holds the lock for some milliseconds, a recompute for seconds. */
const LOCK_TIMEOUT = '15s';
/** A window that was cut off in the middle of a change lets go of the lock after so long. */
const IDLE_TIMEOUT = '60s';
const CONNECT_TIMEOUT_MS = 10_000;
/** What one window or thread has open at once. */
const MOST_CONNECTIONS = 4;

type Config = {
  pool: pg.Pool;
  /** Why nothing may be written; null where it may. */
  readOnly: Notice | null;
};

/** Connections to a team store, none open yet. @param place - a connection string */
export function createTeamPool(place: string, { most = MOST_CONNECTIONS } = {}): pg.Pool {
  const pool = new pg.Pool({
    connectionString: place,
    application_name: 'stemroot',
    connectionTimeoutMillis: CONNECT_TIMEOUT_MS,
    max: most,
    types: { getTypeParser: chooseParser as typeof pg.types.getTypeParser },
  });
  // one that the server ended while nobody used it: the next is opened when it is needed, and tells what is wrong then
  pool.on('error', () => {});
  return pool;
}

/**
 * PostgreSQL whose transactions take the right to write at their start, one lock for the whole store: the same meaning as
 * `BEGIN IMMEDIATE` has for a file. Identities are given in the order in which they are committed, and the trail has one end.
 */
export class TeamDialect extends PostgresDialect {
  readonly #config: Config;

  constructor(config: Config) {
    super({ pool: config.pool });
    this.#config = config;
  }

  override createDriver(): Driver {
    return new TeamDriver(this.#config);
  }
}

class TeamDriver extends PostgresDriver {
  readonly #readOnly: Config['readOnly'];

  constructor({ pool, readOnly }: Config) {
    super({ pool, onCreateConnection: (connection) => prepareSession(connection, readOnly !== null) });
    this.#readOnly = readOnly;
  }

  override async beginTransaction(
    connection: Parameters<PostgresDriver['rollbackTransaction']>[0],
    settings: TransactionSettings,
  ): Promise<void> {
    requireWritable({ readOnly: this.#readOnly });
    await super.beginTransaction(connection, settings);
    try {
      await connection.executeQuery(CompiledQuery.raw(`SELECT pg_advisory_xact_lock(${WRITER_LOCK})`));
    } catch (error) {
      // Kysely takes back only what has begun; the connection would go back to the others in the middle of it
      await super.rollbackTransaction(connection);
      throw error;
    }
  }
}

/** Settings of one connection; the names of tables mean those of this schema, whatever others made elsewhere. */
async function prepareSession(connection: DatabaseConnection, readOnly: boolean): Promise<void> {
  await connection.executeQuery(
    CompiledQuery.raw(`SET search_path = stemroot, pg_temp;
      SET statement_timeout = '${STATEMENT_TIMEOUT}'; SET lock_timeout = '${LOCK_TIMEOUT}';
      SET idle_in_transaction_session_timeout = '${IDLE_TIMEOUT}';
      SET default_transaction_read_only = ${readOnly ? 'on' : 'off'}`),
  );
}

/** Identities and counts are numbers here, as SQLite gives them. */
function chooseParser(oid: number, format?: 'text' | 'binary'): unknown {
  return oid === pg.types.builtins.INT8 ? parseWholeNumber : pg.types.getTypeParser(oid, format);
}

function parseWholeNumber(text: string): number {
  const value = Number(text);
  if (Number.isSafeInteger(value)) return value;
  throw new StoreError(
    'store.damaged',
    `The team store holds a number that this program cannot hold exactly (${text}).`,
    'It was not written by this program; look who did with: npm run -s stemroot -- care trail <workspace>',
  );
}
