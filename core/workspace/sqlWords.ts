import { type Expression, type Kysely, PostgresAdapter, type RawBuilder, sql } from 'kysely';
import type { Tables } from './tables.ts';

/** True where a workspace is a team store, false where it is a file. */
export function isTeam(db: Kysely<Tables>): boolean {
  return db.getExecutor().adapter instanceof PostgresAdapter;
}

/** A field of a JSON text, as text or number; null where there is none. */
export function jsonField<T>(db: Kysely<Tables>, json: string, field: string): RawBuilder<T> {
  const column = sql.ref(json);
  return isTeam(db)
    ? sql<T>`(${column}::json ->> ${sql.lit(field)})`
    : sql<T>`(${column} ->> ${sql.lit(`$.${field}`)})`;
}

/** SQL that is true of rows with one of these identities, of which there may be more than a statement has places for. */
export function isOneOf(db: Kysely<Tables>, column: string, ids: readonly number[]): RawBuilder<boolean> {
  const name = sql.ref(column);
  return isTeam(db)
    ? sql<boolean>`${name} = ANY(${ids}::bigint[])`
    : sql<boolean>`${name} IN (SELECT value FROM json_each(${JSON.stringify(ids)}))`;
}

/** The values of a group as one text, with a blank between. */
export function joinTexts(db: Kysely<Tables>, text: Expression<string>): RawBuilder<string> {
  return isTeam(db) ? sql`string_agg(${text}, ' ')` : sql`group_concat(${text}, ' ')`;
}
