/**
 * SQL by which the database notes every row of a table that a transaction writes. What no entry of the trail has named when the
 * transaction commits has the commit refused. Needs the table `touched`.
 * @param keyColumns - of the primary key, in its order
 */
export function watchTable(table: string, keyColumns: readonly string[]): string {
  // as json_array of SQLite writes it: without a blank
  const keyOf = (row: string) =>
    `'[' || ${keyColumns.map((column) => `to_json(${row}.${column})::text`).join(` || ',' || `)} || ']'`;
  const note = (row: string) =>
    `INSERT INTO touched (table_name, row_key) VALUES ('${table}', ${keyOf(row)}) ON CONFLICT DO NOTHING;`;
  return `
CREATE FUNCTION note_${table}() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = stemroot, pg_temp AS $$
BEGIN
  IF TG_OP <> 'INSERT' THEN ${note('OLD')} END IF;
  IF TG_OP <> 'DELETE' THEN ${note('NEW')} END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER ${table}_noted AFTER INSERT OR UPDATE OR DELETE ON ${table}
  FOR EACH ROW EXECUTE FUNCTION note_${table}();`;
}
