import type Database from 'better-sqlite3';
import { CompiledQuery, type DatabaseConnection, type Driver, SqliteDialect, SqliteDriver } from 'kysely';
import type { Notice } from './opening/index.ts';
import { rememberStatements } from './rememberStatements.ts';
import { requireWritable } from './requireWritable.ts';
import { checkAllTold } from './trail/index.ts';

type Config = {
  database: Database.Database;
  /** Why nothing may be written; null where it may. */
  readOnly: Notice | null;
};

/**
 * SQLite whose transactions take the right to write at their start (`BEGIN IMMEDIATE`). A transaction that reads
 * first and writes later would otherwise fail at once, without waiting, where another connection wrote in between
 * (sqlite.org, "Isolation In SQLite": SQLITE_BUSY_SNAPSHOT). A commit asks that the trail tells of every row written.
 */
export class WriteFirstDialect extends SqliteDialect {
  readonly #config: Config;

  constructor(config: Config) {
    super(config);
    this.#config = config;
  }

  override createDriver(): Driver {
    return new WriteFirstDriver(this.#config);
  }
}

class WriteFirstDriver extends SqliteDriver {
  readonly #database: Database.Database;
  readonly #statements: ReturnType<typeof rememberStatements>;
  readonly #readOnly: Config['readOnly'];

  constructor({ database, readOnly }: Config) {
    const statements = rememberStatements(database);
    super({ database: statements });
    this.#database = database;
    this.#statements = statements;
    this.#readOnly = readOnly;
  }

  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    requireWritable({ readOnly: this.#readOnly });
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }

  override async commitTransaction(connection: DatabaseConnection): Promise<void> {
    checkAllTold(this.#statements);
    await super.commitTransaction(connection);
  }

  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    // a full disk has SQLite roll back by itself; a second time would hide why
    if (this.#database.inTransaction) await super.rollbackTransaction(connection);
  }
}
