import type Database from 'better-sqlite3';
import { findStrangeItem, readForm } from '../opening/index.ts';

/** More faults than these tell nothing new. */
const MOST_FAULTS = 100;

export type CheckReport = {
  /** Faults in words, none where all is well. */
  faults: string[];
  rows: { table: string; count: number }[];
  sizeBytes: number;
};

/**
 * SQLite's whole check of the file (sqlite.org, PRAGMA integrity_check and foreign_key_check), and whether its tables are those
 * that this program makes.
 */
export function checkWorkspace(database: Database.Database): CheckReport {
  const integrity = database.pragma(`integrity_check(${MOST_FAULTS})`) as { integrity_check: string }[];
  const orphans = database.pragma('foreign_key_check') as {
    table: string;
    rowid: number | null;
    parent: string;
  }[];
  const strange = findStrangeItem(database, readForm(database));
  const tables = database
    .prepare(
      "SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!' ORDER BY name",
    )
    .pluck()
    .all() as string[];
  return {
    faults: [
      ...integrity.map((row) => row.integrity_check).filter((line) => line !== 'ok'),
      ...orphans
        .slice(0, MOST_FAULTS)
        .map(
          ({ table, rowid, parent }) =>
            `${table}, row ${rowid ?? 'without number'}: names a row of ${parent} that is not there.`,
        ),
      ...(strange === null ? [] : [`"${strange}" is missing, changed or not of this program.`]),
    ],
    rows: tables.map((table) => ({
      table,
      count: database
        .prepare(`SELECT count(*) FROM main."${table.replaceAll('"', '""')}"`)
        .pluck()
        .get() as number,
    })),
    sizeBytes:
      (database.pragma('page_count', { simple: true }) as number) *
      (database.pragma('page_size', { simple: true }) as number),
  };
}
