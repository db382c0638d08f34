/** What of the database's handle is asked for here. */
type Handle = {
  prepare(sql: string): { all(...values: unknown[]): unknown[] };
};

export type TrackedTable = {
  name: string;
  /** Columns of the primary key, in its order. */
  keyColumns: readonly string[];
};

/**
 * Tables whose rows stand outside of the trail: the trail, which proves itself, and choices that a window keeps
 * for its own convenience, with the recordings attached to them, which change by the second and on which no result rests.
 */
const UNTRACKED_TABLES: readonly string[] = ['trail', 'kept_choices', 'draft_recordings'];
/** Beginning of the names of tables that are computed from the others, with those that their full-text index keeps. */
const COMPUTED = 'register_';

/** True for a table whose rows the trail covers. */
export function isTracked(table: string): boolean {
  return !UNTRACKED_TABLES.includes(table) && !table.startsWith(COMPUTED);
}

/** Every table of a file whose rows the trail covers, with its primary key. */
export function listTrackedTables(database: Handle): TrackedTable[] {
  const names = database
    .prepare(
      `SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!' ORDER BY name`,
    )
    .all() as { name: string }[];
  return names
    .filter(({ name }) => isTracked(name))
    .map(({ name }) => ({ name, keyColumns: listKeyColumns(database, name) }));
}

function listKeyColumns(database: Handle, table: string): string[] {
  const columns = database
    .prepare("SELECT name FROM pragma_table_info(?, 'main') WHERE pk > 0 ORDER BY pk")
    .all(table) as { name: string }[];
  return columns.map(({ name }) => name);
}

/** SQL of a row's key as the trail writes it: a JSON array of its primary key. @param row - `NEW`, `OLD` or a table */
export function keyExpression({ keyColumns }: TrackedTable, row: string): string {
  return `json_array(${keyColumns.map((column) => `${row}.${quoteName(column)}`).join(', ')})`;
}

/** Of a row that was noted: its key, and whether it still stands. */
export type TouchedKey = { 'row key': string; 'is there': number };

/** SQL of the noted rows of a table as they stand, by key; to be bound: table, the key to go on after, how many. */
export function selectTouchedRows({ name, keyColumns }: TrackedTable): string {
  const isKey = keyColumns.map(
    (column, i) => `own.${quoteName(column)} = json_extract(touched.row_key, '$[${i}]')`,
  );
  return `SELECT touched.row_key AS "row key", own.${quoteName(keyColumns[0]!)} IS NOT NULL AS "is there", own.*
    FROM temp.touched LEFT JOIN main.${quoteName(name)} AS own ON ${isKey.join(' AND ')}
    WHERE touched.table_name = ? AND touched.row_key > ? ORDER BY touched.row_key LIMIT ?`;
}

export function quoteName(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
