import type { Kysely } from 'kysely';
import { hashSha256 } from '../../hashSha256.ts';
import type { BreakTestDetail, BreakTestMapping, BreakTestRow, RefusedCell } from '../../strength/index.ts';
import { compressBrotli } from '../compression.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';

type Db = Kysely<Tables>;

/** A break test as it is kept: the reduced row, and how it came about. */
export type KeptBreakTest = { readonly row: BreakTestRow; readonly detail: BreakTestDetail };

export type NewBreakTestSet = {
  fileName: string;
  csv: Uint8Array;
  mapping: BreakTestMapping;
  tests: readonly KeptBreakTest[];
  refused: readonly RefusedCell[];
};

export type ListedBreakTestSet = {
  setId: number;
  fileName: string;
  csvSha256: string;
  keptAt: string;
  tests: number;
  refused: RefusedCell[];
};

/** Keeps a table of break tests with its bytes; the same table under the same mapping is found, not kept twice. */
export async function insertBreakTestSet(
  db: Db,
  { fileName, csv, mapping, tests, refused }: NewBreakTestSet,
): Promise<{ setId: number; isNew: boolean }> {
  const csvSha256 = hashSha256(csv);
  const mappingJson = JSON.stringify(mapping);
  const contentsSha256 = hashSha256(`${csvSha256}\n${mappingJson}`);
  // before the change begins, since all who write wait for its end
  const compressed = compressBrotli(csv);
  return db.transaction().execute(async (transaction) => {
    const same = await transaction
      .selectFrom('break_test_sets')
      .select('set_id')
      .where('contents_sha256', '=', contentsSha256)
      .executeTakeFirst();
    if (same) return { setId: same.set_id, isNew: false };
    const { set_id } = await transaction
      .insertInto('break_test_sets')
      .values({
        file_name: fileName,
        csv_brotli: compressed,
        csv_sha256: csvSha256,
        mapping_json: mappingJson,
        contents_sha256: contentsSha256,
        refused_json: JSON.stringify(refused),
        kept_at: new Date().toISOString(),
      })
      .returning('set_id')
      .executeTakeFirstOrThrow();
    for (const { row, detail } of tests) {
      await transaction
        .insertInto('break_tests')
        .values({
          set_id,
          line: detail.line,
          pole_code: row.poleId,
          test_json: JSON.stringify({ row, detail }),
        })
        .execute();
    }
    await appendTrail(transaction, {
      action: 'import',
      subject: `break tests, ${fileName}`,
      after: { setId: set_id, csvSha256, tests: tests.length, refused: refused.length },
    });
    return { setId: set_id, isNew: true };
  });
}

/** Every table of break tests, oldest first. */
export async function listBreakTestSets(db: Db): Promise<ListedBreakTestSet[]> {
  const rows = await db
    .selectFrom('break_test_sets')
    .select((eb) => [
      'set_id',
      'file_name',
      'csv_sha256',
      'kept_at',
      'refused_json',
      eb
        .selectFrom('break_tests')
        .select((inner) => inner.fn.countAll<number>().as('count'))
        .whereRef('break_tests.set_id', '=', 'break_test_sets.set_id')
        .as('tests'),
    ])
    .orderBy('set_id')
    .execute();
  return rows.map((row) => ({
    setId: row.set_id,
    fileName: row.file_name,
    csvSha256: row.csv_sha256,
    keptAt: row.kept_at,
    tests: row.tests ?? 0,
    refused: JSON.parse(row.refused_json),
  }));
}

/** Every break test, in the order in which they came. */
export async function listBreakTests(
  db: Db,
): Promise<(KeptBreakTest & { testId: number; setId: number; poleCode: string })[]> {
  const rows = await db.selectFrom('break_tests').selectAll().orderBy('test_id').execute();
  return rows.map((row) => ({
    testId: row.test_id,
    setId: row.set_id,
    poleCode: row.pole_code,
    ...(JSON.parse(row.test_json) as KeptBreakTest),
  }));
}
