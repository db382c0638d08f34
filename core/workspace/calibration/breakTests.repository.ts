import type { Kysely } from 'kysely';
import { hashSha256 } from '../../hashSha256.ts';
import type { BreakTestDetail, BreakTestMapping, BreakTestRow, RefusedCell } from '../../strength/index.ts';
import type { Tables } from '../tables.ts';

type Db = Kysely<Tables>;

/** A break test as it is kept: the reduced row, and how it came about. */
export type KeptBreakTest = { readonly row: BreakTestRow; readonly detail: BreakTestDetail };

/** Who made a choice, when and why. */
export type TestChoice = { readonly chosenAt: string; readonly chosenBy: string; readonly reason: string };

export type ListedBreakTest = KeptBreakTest & {
  readonly testId: number;
  readonly setId: number;
  readonly fileName: string;
  readonly poleCode: string;
  /** The choice by which it is in no fit; null: it is in use. */
  readonly setAside: TestChoice | null;
};

export type ListedBreakTestSet = {
  setId: number;
  fileName: string;
  csvSha256: string;
  keptAt: string;
  refused: RefusedCell[];
};

/** SHA-256 of a table together with what its columns are taken for: two sets of the same one are the same set. */
export function hashContents(csvSha256: string, mapping: BreakTestMapping): string {
  return hashSha256(`${csvSha256}\n${JSON.stringify(mapping)}`);
}

/** The set that a table is kept as, by {@link hashContents}. */
export async function findBreakTestSet(db: Db, contentsSha256: string): Promise<number | undefined> {
  const row = await db
    .selectFrom('break_test_sets')
    .select('set_id')
    .where('contents_sha256', '=', contentsSha256)
    .executeTakeFirst();
  return row?.set_id;
}

/** Every table of break tests, oldest first. */
export async function listBreakTestSets(db: Db): Promise<ListedBreakTestSet[]> {
  const rows = await db
    .selectFrom('break_test_sets')
    .select(['set_id', 'file_name', 'csv_sha256', 'kept_at', 'refused_json'])
    .orderBy('set_id')
    .execute();
  return rows.map((row) => ({
    setId: row.set_id,
    fileName: row.file_name,
    csvSha256: row.csv_sha256,
    keptAt: row.kept_at,
    refused: JSON.parse(row.refused_json),
  }));
}

/** Every break test, in use or set aside, in the order in which they came. */
export async function listBreakTests(db: Db): Promise<ListedBreakTest[]> {
  const rows = await db
    .selectFrom('break_tests as test')
    .innerJoin('break_test_sets as kept', 'kept.set_id', 'test.set_id')
    .leftJoin('break_test_choices as choice', (join) =>
      join.onRef('choice.test_id', '=', 'test.test_id').on('choice.choice_id', 'in', (eb) =>
        eb
          .selectFrom('break_test_choices')
          .select((inner) => inner.fn.max('choice_id').as('last'))
          .groupBy('test_id'),
      ),
    )
    .select(['test.test_id', 'test.set_id', 'kept.file_name', 'test.pole_code', 'test.test_json'])
    .select(['choice.standing', 'choice.chosen_at', 'choice.chosen_by', 'choice.reason'])
    .orderBy('test.test_id')
    .execute();
  return rows.map((row) => ({
    testId: row.test_id,
    setId: row.set_id,
    fileName: row.file_name,
    poleCode: row.pole_code,
    setAside:
      row.standing === 'set aside'
        ? { chosenAt: row.chosen_at!, chosenBy: row.chosen_by!, reason: row.reason! }
        : null,
    ...(JSON.parse(row.test_json) as KeptBreakTest),
  }));
}

/** Every break test that relations are fitted to, in the order in which they came. */
export async function listTestsInUse(db: Db): Promise<ListedBreakTest[]> {
  return (await listBreakTests(db)).filter(({ setAside }) => setAside === null);
}
