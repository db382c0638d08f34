import { type Kysely, type RawBuilder, sql } from 'kysely';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';

type Db = Kysely<Tables>;
type Asked = { readonly words: readonly string[]; readonly facetIds: readonly number[] };

/** Visits of some facets that have words for themselves. */
export type OwnWords = Asked & {
  readonly listed: readonly { visitId: number; facetId: number }[] | null;
  /** By facet. */
  readonly counts: ReadonlyMap<number, number>;
};

/** Letters of which the index of a workspace file is made; shorter words are looked for row by row. */
const LETTERS_A_PIECE = 3;

/** All of these visits, or null where there are more than so many. */
export async function listOwn(db: Db, asked: Asked, most: number): Promise<OwnWords['listed']> {
  const { rows } = await sql<{ visit_id: number; facet_id: number }>`
    SELECT visit_id, facet_id FROM register_rows WHERE ${ownCondition(db, asked)} LIMIT ${most + 1}`.execute(
    db,
  );
  if (rows.length > most) return null;
  return rows.map((row) => ({ visitId: row.visit_id, facetId: row.facet_id }));
}

export async function countOwn(db: Db, asked: Asked): Promise<OwnWords['counts']> {
  const { rows } = await sql<{ facet_id: number; visits: number }>`
    SELECT facet_id, count(*) AS visits FROM register_rows WHERE ${ownCondition(db, asked)} GROUP BY facet_id`.execute(
    db,
  );
  return new Map(rows.map(({ facet_id, visits }) => [facet_id, visits]));
}

/** SQL that is true of a row of the register that is of one of the facets and has every word, to be found by its words. */
export function ownCondition(db: Db, { words, facetIds }: Asked): RawBuilder<boolean> {
  const parts = isTeam(db) ? words.map(likeWord) : matchWords(words);
  return sql<boolean>`(${sql.join([...parts, isFacet(db, facetIds)], sql` AND `)})`;
}

/** The same for a row that is found by something else. */
export function isOwn(db: Db, { words, facetIds }: Asked): RawBuilder<boolean> {
  const parts = isTeam(db) ? words.map(likeWord) : words.map(holdsWord);
  return sql<boolean>`(${sql.join([isFacet(db, facetIds), ...parts], sql` AND `)})`;
}

/** SQL that is true of rows of these facets, so that no index on the facet is chosen for it: the rows are found by something else. */
export function isFacet(db: Db, facetIds: readonly number[]): RawBuilder<boolean> {
  return isTeam(db)
    ? sql<boolean>`+facet_id = ANY(${facetIds}::bigint[])`
    : sql<boolean>`+facet_id IN (SELECT value FROM json_each(${JSON.stringify(facetIds)}))`;
}

function matchWords(words: readonly string[]): RawBuilder<boolean>[] {
  const isLong = (word: string) => Array.from(word).length >= LETTERS_A_PIECE;
  const long = words.filter(isLong).map((word) => `"${word.replaceAll('"', '""')}"`);
  const short = words.filter((word) => !isLong(word));
  return [
    ...(long.length > 0
      ? [
          sql<boolean>`visit_id IN (SELECT rowid FROM register_search WHERE register_search MATCH ${long.join(' AND ')})`,
        ]
      : []),
    ...short.map(holdsWord),
  ];
}

function holdsWord(word: string): RawBuilder<boolean> {
  return sql<boolean>`instr(own_words, ${word}) > 0`;
}

function likeWord(word: string): RawBuilder<boolean> {
  return sql<boolean>`own_words LIKE ${`%${word.replaceAll(/[\\%_]/g, '\\$&')}%`}`;
}
