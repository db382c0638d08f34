import { type Kysely, sql } from 'kysely';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { type ComputedRow, computeRows } from './composeRow.ts';
import type { StoredRow } from './orders.ts';
import { listSharingPoles } from './readSharers.ts';

type Db = Kysely<Tables>;

type KnownRow = StoredRow & { facet_sha256: string; row_json: string };

/** Rows that one statement writes: each has some twenty values, and SQLite takes 32,766 in a statement. */
const ROWS_A_STATEMENT = 500;

/**
 * Brings the rows of the poles of these visits to where the workspace stands; to be called within the transaction of a change, after
 * its last write to visits, results or rulings.
 */
export async function refreshVisits(transaction: Db, visitIds: readonly number[]): Promise<void> {
  if (visitIds.length === 0) return;
  const poles = await transaction
    .selectFrom('visits')
    .select('pole_id')
    .distinct()
    .where('visit_id', 'in', visitIds)
    .execute();
  await refreshPoles(
    transaction,
    poles.map(({ pole_id }) => pole_id),
  );
}

/** The same for poles, and for others that have recordings of theirs. @param poleNumbers - identities of poles, at most some thousand */
export async function refreshPoles(transaction: Db, poleNumbers: readonly number[]): Promise<void> {
  if (poleNumbers.length === 0) return;
  const touched = [...new Set([...poleNumbers, ...(await listSharingPoles(transaction, poleNumbers))])];
  const computed = await computeRows(transaction, touched);
  for (let i = 0; i < computed.length; i += ROWS_A_STATEMENT) {
    await storeRows(transaction, computed.slice(i, i + ROWS_A_STATEMENT));
  }
  await transaction.deleteFrom('register_stale').where('pole_id', 'in', touched).execute();
  await transaction.updateTable('register_state').set({ revision: sql`revision + 1` }).execute();
}

/** What is stored of these visits. */
export async function readKnown(db: Db, visitIds: readonly number[]): Promise<Map<number, KnownRow>> {
  const rows = await db
    .selectFrom('register_rows')
    .innerJoin('register_texts', 'register_texts.visit_id', 'register_rows.visit_id')
    .innerJoin('register_facets', 'register_facets.facet_id', 'register_rows.facet_id')
    .selectAll('register_rows')
    .select(['row_json', 'facet_sha256'])
    .where('register_rows.visit_id', 'in', visitIds)
    .execute();
  return new Map(rows.map((row) => [row.visit_id, row]));
}

/** True where a stored row is not what was computed. */
export function differs(known: KnownRow | undefined, computed: ComputedRow): boolean {
  return (
    known === undefined ||
    known.row_json !== computed.row_json ||
    known.facet_sha256 !== computed.facet.facet_sha256 ||
    listChanges(known, computed.columns).length > 0
  );
}

function listChanges(known: KnownRow, columns: ComputedRow['columns']): [string, unknown][] {
  return Object.entries(columns).filter(([name, value]) => known[name as keyof StoredRow] !== value);
}

async function storeRows(db: Db, computed: readonly ComputedRow[]): Promise<void> {
  const known = await readKnown(
    db,
    computed.map(({ columns }) => columns.visit_id),
  );
  const changed = computed.filter((row) => differs(known.get(row.columns.visit_id), row));
  if (changed.length === 0) return;
  const facetIds = await countFacets(db, changed, known);
  const withFacet = ({ columns, facet }: ComputedRow): StoredRow => ({
    ...columns,
    facet_id: facetIds.get(facet.facet_sha256)!,
  });
  const added = changed.filter(({ columns }) => !known.has(columns.visit_id));
  if (added.length > 0) {
    // what is left of a row in part of the tables would stand in the way
    const ids = added.map(({ columns }) => columns.visit_id);
    await db.deleteFrom('register_rows').where('visit_id', 'in', ids).execute();
    await db.deleteFrom('register_texts').where('visit_id', 'in', ids).execute();
    await db.insertInto('register_rows').values(added.map(withFacet)).execute();
    await db
      .insertInto('register_texts')
      .values(added.map(({ columns, row_json }) => ({ visit_id: columns.visit_id, row_json })))
      .execute();
  }
  for (const row of changed) {
    const before = known.get(row.columns.visit_id);
    if (before) await updateRow(db, before, row, withFacet(row));
  }
  const spoken = changed.filter(
    ({ columns }) => known.get(columns.visit_id)?.own_words !== columns.own_words,
  );
  if (!isTeam(db)) await indexWords(db, spoken);
}

/** An index is touched only where a value of its own changes. */
async function updateRow(db: Db, known: KnownRow, row: ComputedRow, columns: StoredRow): Promise<void> {
  const changes = Object.entries(columns).filter(([name, value]) => known[name as keyof StoredRow] !== value);
  if (changes.length > 0) {
    await db
      .updateTable('register_rows')
      .set(Object.fromEntries(changes))
      .where('visit_id', '=', known.visit_id)
      .execute();
  }
  await db
    .updateTable('register_texts')
    .set({ row_json: row.row_json })
    .where('visit_id', '=', known.visit_id)
    .execute();
}

/** Keeps the number of visits of each facet. @returns identities of the facets of the computed rows, by hash */
async function countFacets(
  db: Db,
  computed: readonly ComputedRow[],
  known: ReadonlyMap<number, KnownRow>,
): Promise<Map<string, number>> {
  const byHash = Map.groupBy(computed, ({ facet }) => facet.facet_sha256);
  const stored = await db
    .insertInto('register_facets')
    .values([...byHash.values()].map((rows) => ({ ...rows[0]!.facet, visits: rows.length })))
    .onConflict((conflict) =>
      conflict.column('facet_sha256').doUpdateSet({ visits: sql`register_facets.visits + excluded.visits` }),
    )
    .returning(['facet_id', 'facet_sha256'])
    .execute();
  const before = computed.flatMap(({ columns }) => known.get(columns.visit_id) ?? []);
  if (before.length === 0) return identify(stored);
  for (const [facetId, rows] of Map.groupBy(before, ({ facet_id }) => facet_id)) {
    await db
      .updateTable('register_facets')
      .set({ visits: sql`visits - ${rows.length}` })
      .where('facet_id', '=', facetId)
      .execute();
  }
  await db
    .deleteFrom('register_facets')
    .where(
      'facet_id',
      'in',
      before.map(({ facet_id }) => facet_id),
    )
    .where('visits', '<=', 0)
    .execute();
  return identify(stored);
}

function identify(stored: readonly { facet_id: number; facet_sha256: string }[]): Map<string, number> {
  return new Map(stored.map((row) => [row.facet_sha256, row.facet_id]));
}

/** So that the last letter of a text, too, begins a piece of three. */
export const WORDS_END = '\n\n';

/** A workspace file has its words in a full-text table beside the rows; a team store in an index on them. */
async function indexWords(db: Db, rows: readonly ComputedRow[]): Promise<void> {
  const ids = JSON.stringify(rows.map(({ columns }) => columns.visit_id));
  await sql`DELETE FROM register_search WHERE rowid IN (SELECT value FROM json_each(${ids}))`.execute(db);
  await sql`INSERT INTO register_search (rowid, own_words)
    SELECT visit_id, own_words || ${WORDS_END} FROM register_rows WHERE visit_id IN (SELECT value FROM json_each(${ids}))`.execute(
    db,
  );
}
