import type Database from 'better-sqlite3';

/** More texts than a batch asks again and again; lists of values of many lengths make a text each. */
const MOST_STATEMENTS = 200;

type Statements = Pick<Database.Database, 'prepare' | 'close'>;

/**
 * A connection that prepares each text once, which takes as long as running most of ours. The same statement is handed out again, so
 * none may be walked row by row while it is asked anew.
 */
export function rememberStatements(database: Database.Database): Statements {
  const kept = new Map<string, Database.Statement>();
  const prepare = (text: string) => {
    const statement = kept.get(text) ?? database.prepare(text);
    kept.delete(text);
    kept.set(text, statement);
    if (kept.size > MOST_STATEMENTS) kept.delete(kept.keys().next().value!);
    return statement;
  };
  return { prepare: prepare as Statements['prepare'], close: () => database.close() };
}
