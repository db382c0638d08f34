import type { Kysely } from 'kysely';
import type { RegisterRow } from '../contract.ts';
import { buildRows } from '../register/buildRows.ts';
import { readEntries } from '../register/readEntries.ts';
import { type Position, readPosition } from '../register/readPoleOfVisit.ts';
import type { Tables } from '../tables.ts';

type Db = Kysely<Tables>;

export type RowOfVisit = { readonly row: RegisterRow };

/** A row of the register, and where the pole stands, as this visit or else the one before tells it; null where none does. */
export type ExportRow = RowOfVisit & { readonly position: Position | null };

/** Rows as they come: all at once, or part by part. */
export type Parts<T> = Iterable<readonly T[]> | AsyncIterable<readonly T[]>;

/** Poles read at once: what the whole export holds in memory, whatever the size of the workspace. */
const POLES_A_PART = 500;

/** Every visit of a workspace in parts of whole poles, poles in the order in which they came in, the visits of each by date. */
export async function* readExportRows(db: Db): AsyncGenerator<ExportRow[]> {
  for (let last = 0; ; ) {
    const poles = await db
      .selectFrom('poles')
      .select('pole_id')
      .where('pole_id', '>', last)
      .orderBy('pole_id')
      .limit(POLES_A_PART)
      .execute();
    if (poles.length === 0) return;
    const numbers = poles.map(({ pole_id }) => pole_id);
    yield await readPart(db, numbers);
    last = numbers.at(-1)!;
  }
}

async function readPart(db: Db, poleNumbers: readonly number[]): Promise<ExportRow[]> {
  const entries = await readEntries(db, poleNumbers);
  const positions = new Map(entries.map(({ facts, pole }) => [facts.visitId, readPosition(pole)]));
  return [...Map.groupBy(entries, ({ poleNumber }) => poleNumber).values()].flatMap((visits) => {
    let position: Position | null = null;
    return buildRows(visits).map((row) => {
      position = positions.get(row.visitId) ?? position;
      return { row, position };
    });
  });
}
