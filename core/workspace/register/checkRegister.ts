import { type Kysely, sql } from 'kysely';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { walkPoles } from '../walkPoles.ts';
import { computeRows } from './composeRow.ts';
import { differs, readKnown } from './refreshPoles.ts';
import { noteAllPoles, settleRegister } from './settleRegister.ts';

type Db = Kysely<Tables>;

export type RegisterReport = {
  visits: number;
  /** Visits whose stored row is not what is computed anew, or of which there is none. */
  differing: number;
  /** Stored rows of visits that are not there, and counts of the filters that are not what the rows say. */
  astray: number;
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
  return { visits, differing, astray: await countAstray(db) };
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

/** Computes the whole register anew. Until it is done, windows show as much as is there already. */
export async function rebuildRegister(db: Db): Promise<void> {
  await db.transaction().execute(async (transaction) => {
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
