import {
  CompiledQuery,
  type DatabaseConnection,
  type Driver,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
} from 'kysely';

/**
 * SQLite whose transactions take the right to write at their start (`BEGIN IMMEDIATE`). A transaction that reads
 * first and writes later would otherwise fail at once, without waiting, where another connection wrote in between
 * (sqlite.org, "Isolation In SQLite": SQLITE_BUSY_SNAPSHOT).
 */
export class WriteFirstDialect extends SqliteDialect {
  readonly #config: SqliteDialectConfig;

  constructor(config: SqliteDialectConfig) {
    super(config);
    this.#config = config;
  }

  override createDriver(): Driver {
    return new WriteFirstDriver(this.#config);
  }
}

class WriteFirstDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }
}
