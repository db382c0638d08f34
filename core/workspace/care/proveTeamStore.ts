import { CompiledQuery, type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import { checkTeamForm, type TeamStore } from '../team/index.ts';
import { checkChain, isTracked, noteToldRows, type RowDifference, type TrailRow } from '../trail/index.ts';
import { concludeProof, createEvidenceCheck, type FurtherPiece, type Proof } from './provingParts.ts';

/** Rows that are fetched at once: a recording takes up to some megabytes. */
const ROWS_A_FETCH = 20;

/**
 * Proves a team store as {@link proveWorkspace} does a file, as of one moment, while others go on writing; whoever may read can
 * ask for it.
 */
export async function proveTeamStore(
  { db: pool }: TeamStore,
  options: { known?: string | undefined } = {},
): Promise<Proof> {
  return pool.connection().execute(async (db) => {
    // not a transaction of Kysely's: those take the right to write
    await run(db, 'BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    try {
      return await prove(db, options);
    } finally {
      await run(db, 'ROLLBACK');
    }
  });
}

async function prove(db: Kysely<Tables>, options: { known?: string | undefined }): Promise<Proof> {
  const form = await checkTeamForm(db);
  const chain = checkChain(options);
  const told = noteToldRows();
  for await (const entry of readRows<TrailRow>(db, 'SELECT * FROM trail ORDER BY seq')) {
    chain.take(entry);
    told.take(entry);
  }
  const evidence = createEvidenceCheck();
  const differences: RowDifference[] = [];
  for (const { name, key_expression } of await listTables(db)) {
    const query = `SELECT ${key_expression} AS "row key", * FROM "${name}"`;
    for await (const { 'row key': key, ...row } of readRows<{ 'row key': string }>(db, query)) {
      const difference = told.compare(name, key, row);
      if (difference !== null) differences.push(difference);
      evidence.take(name, row, name === 'recordings' ? await readFurther(db, row) : []);
    }
  }
  differences.push(...told.listMissing());
  return concludeProof({ form, chain: chain.tell(), differences, evidence });
}

/** Tables that the trail covers, each with its key as the trail writes it. */
async function listTables(db: Kysely<Tables>): Promise<{ name: string; key_expression: string }[]> {
  const { rows } = await sql<{ name: string; key_expression: string }>`
    SELECT relname AS name,
      '''[''' || string_agg(format(' || to_json(%I)::text', attname), ' || '',''' ORDER BY place) || ' || '']''' AS key_expression
    FROM pg_index CROSS JOIN LATERAL unnest(indkey) WITH ORDINALITY AS keys (number, place)
    JOIN pg_attribute ON attrelid = indrelid AND attnum = number JOIN pg_class ON pg_class.oid = indrelid
    WHERE relnamespace = 'stemroot'::regnamespace AND indisprimary AND relname NOT IN ('forms', 'touched')
    GROUP BY relname ORDER BY relname`.execute(db);
  return rows.filter(({ name }) => isTracked(name));
}

/** The further pieces of a recording. */
function readFurther(db: Kysely<Tables>, row: object): Promise<FurtherPiece[]> {
  return db
    .selectFrom('recording_pieces')
    .select('compressed_bytes')
    .where('sha256', '=', (row as Tables['recordings']).sha256)
    .orderBy('position')
    .execute();
}

/** Rows of a query, some at a time. */
async function* readRows<Row>(db: Kysely<Tables>, query: string): AsyncGenerator<Row> {
  await run(db, `DECLARE proving NO SCROLL CURSOR FOR ${query}`);
  for (;;) {
    const rows = await run<Row>(db, `FETCH ${ROWS_A_FETCH} FROM proving`);
    yield* rows;
    if (rows.length < ROWS_A_FETCH) break;
  }
  await run(db, 'CLOSE proving');
}

async function run<Row>(db: Kysely<Tables>, text: string): Promise<Row[]> {
  return (await db.executeQuery<Row>(CompiledQuery.raw(text))).rows;
}
