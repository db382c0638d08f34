import type Database from 'better-sqlite3';

/**
 * Settings against files that somebody made to do harm (sqlite.org, "Defense Against The Dark Arts"): nothing that the file
 * itself brings may call functions with effects, and each cell is looked at before it is used.
 */
export function secure(database: Database.Database): void {
  database.pragma('trusted_schema = OFF');
  database.pragma('cell_size_check = ON');
}
