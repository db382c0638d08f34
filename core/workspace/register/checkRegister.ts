import { type Kysely, type RawBuilder, sql } from 'kysely';
import { WORDS_TOKENIZER } from '../migrations/20261127T170000_register.ts';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { walkPoles } from '../walkPoles.ts';
import { computeRows } from './composeRow.ts';
import { countAstrayRanges, dropRanges } from './ranges.ts';
import { differs, readKnown, WORDS_END } from './refreshPoles.ts';
import { noteAllPoles, settleRegister } from './settleRegister.ts';

type Db = Kysely<Tables>;

export type RegisterReport = {
  visits: number;
  /** Visits whose stored row is not what is computed anew, or of which there is none. */
  differing: number;
  /** Stored rows of visits that are not there, and counts of filters and ranges that are not what the rows say. */
  astray: number;
  /** Pieces of words that a search finds for more or fewer visits than have them. */
  astrayPieces: number;
};

/** Compares every stored row of the register with the one computed anew from visits, results and rulings. */
export async function checkRegister(db: Db): Promise<RegisterReport> {
  let [visits, differing] = [0, 0];
  for await (const poles of walkPoles(db)) {
    const computed = await computeRows(db, poles);
    const ids = computed.map(({ columns }) => columns.visit_id);
    const known = ids.length === 0 ? new Map() : await readKnown(db, ids);
    visits += computed.length;
    differing += computed.filter((row) => differs(known.get(row.columns.visit_id), row)).length;
  }
  const astrayPieces = isTeam(db) ? 0 : await countAstrayPieces(db);
  return { visits, differing, astray: (await countAstray(db)) + (await countAstrayRanges(db)), astrayPieces };
}

async function countAstray(db: Db): Promise<number> {
  const { rows } = await sql<{ astray: number }>`
    SELECT (SELECT count(*) FROM register_rows WHERE visit_id NOT IN (SELECT visit_id FROM visits))
      + (SELECT count(*) FROM register_texts WHERE visit_id NOT IN (SELECT visit_id FROM visits))
      + (SELECT count(*) FROM register_facets WHERE visits <>
          (SELECT count(*) FROM register_rows WHERE register_rows.facet_id = register_facets.facet_id)) AS astray`.execute(
    db,
  );
  return rows[0]!.astray;
}

/** The full-text table of a workspace file keeps no texts: its pieces are held against those of one made anew from the rows. */
async function countAstrayPieces(db: Db): Promise<number> {
  return db.connection().execute(async (connection) => {
    const run = (statement: RawBuilder<unknown>) => statement.execute(connection);
    await run(sql`CREATE VIRTUAL TABLE temp.checked_search USING fts5(
      own_words, content='', tokenize=${sql.lit(WORDS_TOKENIZER)})`);
    try {
      await run(sql`INSERT INTO temp.checked_search (rowid, own_words)
        SELECT visit_id, own_words || ${WORDS_END} FROM register_rows`);
      await run(sql`CREATE VIRTUAL TABLE temp.checked_pieces USING fts5vocab(temp, checked_search, row)`);
      const { rows } = await sql<{ astray: number }>`
        SELECT count(*) AS astray FROM (
          SELECT term, doc FROM register_pieces EXCEPT SELECT term, doc FROM temp.checked_pieces
          UNION ALL
          SELECT term, doc FROM (
            SELECT term, doc FROM temp.checked_pieces EXCEPT SELECT term, doc FROM register_pieces))`.execute(
        connection,
      );
      return rows[0]!.astray;
    } finally {
      await run(sql`DROP TABLE IF EXISTS temp.checked_pieces`);
      await run(sql`DROP TABLE IF EXISTS temp.checked_search`);
    }
  });
}

/** Computes the whole register anew. Until it is done, windows show as much as is there already. */
export async function rebuildRegister(db: Db): Promise<void> {
  await db.transaction().execute(async (transaction) => {
    await dropRanges(transaction);
    for (const table of ['register_rows', 'register_texts', 'register_facets'] as const) {
      await transaction.deleteFrom(table).execute();
    }
    if (!isTeam(transaction)) {
      await sql`INSERT INTO register_search (register_search) VALUES ('delete-all')`.execute(transaction);
    }
    await noteAllPoles(transaction);
  });
  await settleRegister(db);
}
