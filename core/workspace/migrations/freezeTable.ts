/**
 * SQL of the triggers by which a table is written once and never changed, deleted from or replaced.
 * @param takesPlace - when a new row would take the place of another: INSERT OR REPLACE fires no trigger for the one that goes
 */
export function freezeTable(table: string, takesPlace: string): string {
  return `
CREATE TRIGGER ${table}_never_change BEFORE UPDATE ON ${table}
BEGIN SELECT RAISE(ABORT, '${table} are written once and never changed'); END;
CREATE TRIGGER ${table}_never_go BEFORE DELETE ON ${table}
BEGIN SELECT RAISE(ABORT, '${table} are written once and never deleted'); END;
CREATE TRIGGER ${table}_never_replaced BEFORE INSERT ON ${table}
WHEN EXISTS (SELECT 1 FROM ${table} WHERE ${takesPlace})
BEGIN SELECT RAISE(ABORT, '${table} are written once and never replaced'); END;`;
}
