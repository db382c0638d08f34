/** SQL of the triggers by which rows of a table are written once, and never changed nor deleted. Needs `refuse_change()`. */
export function freezeTable(table: string): string {
  return `
CREATE TRIGGER ${table}_never_change BEFORE UPDATE OR DELETE ON ${table}
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER ${table}_never_emptied BEFORE TRUNCATE ON ${table}
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();`;
}
