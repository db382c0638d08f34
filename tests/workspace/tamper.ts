import type Database from 'better-sqlite3';
import type { RandomStream } from '../../samples/random.ts';

export type ChangedCell = { table: string; column: string; key: string };

type Column = { name: string; pk: number };

/**
 * Changes one cell of a workspace file past the program: takes the triggers away that forbid it, writes another value of the
 * same kind, and puts the triggers back, so that nothing else tells of it.
 */
export function changeRandomCell(
  database: Database.Database,
  tables: readonly string[],
  random: RandomStream,
): ChangedCell {
  database.pragma('ignore_check_constraints = ON');
  database.pragma('foreign_keys = OFF');
  const triggers = database.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").all() as {
    name: string;
    sql: string;
  }[];
  for (const { name } of triggers) database.exec(`DROP TRIGGER ${name}`);
  const cell = changeCell(database, pick(tables, random), random);
  for (const { sql } of triggers) database.exec(sql);
  return cell;
}

function changeCell(database: Database.Database, table: string, random: RandomStream): ChangedCell {
  const columns = database.pragma(`table_info(${table})`) as Column[];
  const keyColumns = columns.filter(({ pk }) => pk > 0).toSorted((a, b) => a.pk - b.pk);
  const rows = database.prepare(`SELECT * FROM ${table}`).all() as Record<string, unknown>[];
  const row = pick(rows, random);
  const column = pick(columns, random).name;
  const where = keyColumns.map(({ name }) => `${name} = ?`).join(' AND ');
  const key = keyColumns.map(({ name }) => row[name]);
  const type = columnType(database, table, column);
  database
    .prepare(`UPDATE ${table} SET ${column} = ? WHERE ${where}`)
    .run(alter(row[column], type, random), ...key);
  return { table, column, key: JSON.stringify(key) };
}

function columnType(database: Database.Database, table: string, column: string): string {
  return database
    .prepare('SELECT type FROM pragma_table_info(?) WHERE name = ?')
    .pluck()
    .get(table, column) as string;
}

/** Another value of the same kind, as like the old one as can be. @param type - of the column */
export function alter(value: unknown, type: string, random: RandomStream): unknown {
  if (value === null) {
    if (/^(INTEGER|bigint|integer)$/.test(type)) return 1;
    return /^(BLOB|bytea)$/.test(type) ? Buffer.from([0]) : '{}';
  }
  if (typeof value === 'number') return value + 1000;
  if (typeof value === 'string') {
    const at = Math.floor(random.between(0, value.length));
    const other = value[at] === 'z' ? 'y' : 'z';
    return value.slice(0, at) + other + value.slice(at + 1);
  }
  const bytes = Buffer.from(value as Uint8Array);
  const at = Math.floor(random.between(0, bytes.length));
  bytes[at] = bytes[at]! ^ 1;
  return bytes;
}

export function pick<T>(values: readonly T[], random: RandomStream): T {
  return values[Math.floor(random.between(0, values.length))]!;
}
