import { type Kysely, type RawBuilder, sql } from 'kysely';
import { isOneOf, isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';

type Db = Kysely<Tables>;

/** Visits of some facets that are to have words for themselves. */
export type Asked = {
  readonly words: readonly string[];
  readonly facetIds: readonly number[];
  /** What the full-text table of a workspace file is asked for; null: nobody has these words. A team store does not ask it. */
  readonly match: string | null;
};

export type OwnWords = Asked & {
  readonly listed: readonly { visitId: number; facetId: number }[] | null;
  /** By facet; where none are listed and none were counted, as many as the facet has. */
  readonly counts: ReadonlyMap<number, number>;
};

/** Letters of the pieces that the full-text table of a workspace file is made of. */
const LETTERS_A_PIECE = 3;
/** Above every letter that there is. */
const LAST_LETTER = '\u{10ffff}';

/**
 * What the full-text table is asked for to find rows that may have all of these words; null where one of them stands in no row. A
 * word shorter than its pieces is looked for as any piece that begins with it: each text ends with line ends, so that every letter begins a
 * piece. That is a long question, so it is asked for one such word at most, and only where there is no longer one.
 */
export async function matchWords(db: Db, words: readonly string[]): Promise<string | null> {
  const parts: string[] = [];
  for (const word of partWords(words).asked) {
    const pieces = isShort(word) ? await listPieces(db, word) : [word];
    if (pieces.length === 0) return null;
    parts.push(`(${pieces.map((piece) => `"${piece.replaceAll('"', '""')}"`).join(' OR ')})`);
  }
  return parts.join(' AND ');
}

/** The words that the full-text table is asked for, and those that what it finds is held against. */
function partWords(words: readonly string[]): { asked: readonly string[]; held: readonly string[] } {
  const [short, long] = [words.filter(isShort), words.filter((word) => !isShort(word))];
  if (long.length > 0) return { asked: long, held: short };
  const [longest, ...others] = short.toSorted((a, b) => b.length - a.length);
  return longest === undefined ? { asked: [], held: [] } : { asked: [longest], held: others };
}

/** Whether a word is too short for an index of words to find it. */
export function isShort(word: string): boolean {
  return Array.from(word).length < LETTERS_A_PIECE;
}

async function listPieces(db: Db, start: string): Promise<string[]> {
  const { rows } = await sql<{ term: string }>`
    SELECT term FROM register_pieces WHERE term >= ${start} AND term < ${start + LAST_LETTER}`.execute(db);
  return rows.map(({ term }) => term);
}

/**
 * All of these visits, or null where there are more than so many.
 * @param options.ofFacets - visits of the facets in all: where they are few themselves, each is looked at
 */
export async function listOwn(
  db: Db,
  asked: Asked,
  { most, ofFacets }: { most: number; ofFacets: number },
): Promise<OwnWords['listed']> {
  if (!isTeam(db) && asked.match === null) return [];
  const hits = isTeam(db)
    ? sql`register_rows WHERE ${ownCondition(db, asked)}`
    : ofFacets <= most
      ? sql`register_rows WHERE ${isOneOf(db, 'facet_id', asked.facetIds)} AND ${haveWords(asked.words)}`
      : // in this order, so that it ends with the last that is wanted
        sql`register_search CROSS JOIN register_rows ON visit_id = register_search.rowid
          WHERE register_search MATCH ${asked.match} AND ${isFacet(db, asked.facetIds)} AND ${haveHeld(asked.words)}`;
  const { rows } = await sql<{ visit_id: number; facet_id: number }>`
    SELECT visit_id, facet_id FROM ${hits} LIMIT ${most + 1}`.execute(db);
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
export function ownCondition(db: Db, asked: Asked): RawBuilder<boolean> {
  if (isTeam(db)) return isOwn(db, asked);
  return sql<boolean>`(visit_id IN (SELECT rowid FROM register_search WHERE register_search MATCH ${asked.match})
    AND ${isFacet(db, asked.facetIds)} AND ${haveHeld(asked.words)})`;
}

/** The same for a row that is found by something else. */
export function isOwn(db: Db, { words, facetIds }: Asked): RawBuilder<boolean> {
  const have = isTeam(db) ? sql.join(words.map(likeWord), sql` AND `) : haveWords(words);
  return sql<boolean>`(${isFacet(db, facetIds)} AND ${have})`;
}

/** SQL that is true of rows of these facets, so that no index on the facet is chosen for it: the rows are found by something else. */
export function isFacet(db: Db, facetIds: readonly number[]): RawBuilder<boolean> {
  return sql<boolean>`+${isOneOf(db, 'facet_id', facetIds)}`;
}

function haveHeld(words: readonly string[]): RawBuilder<boolean> {
  const { held } = partWords(words);
  return held.length === 0 ? sql<boolean>`true` : haveWords(held);
}

function haveWords(words: readonly string[]): RawBuilder<boolean> {
  return sql<boolean>`(${sql.join(
    words.map((word) => sql`instr(register_rows.own_words, ${word}) > 0`),
    sql` AND `,
  )})`;
}

function likeWord(word: string): RawBuilder<boolean> {
  return sql<boolean>`own_words LIKE ${`%${word.replaceAll(/[\\%_]/g, '\\$&')}%`}`;
}
