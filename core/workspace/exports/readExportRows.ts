import type { Kysely } from 'kysely';
import type { RegisterRow } from '../contract.ts';
import { buildRows } from '../register/buildRows.ts';
import { readEntries } from '../register/readEntries.ts';
import { type Position, readPosition } from '../register/readStoredVisit.ts';
import type { Tables } from '../tables.ts';
import { walkPoles } from '../walkPoles.ts';

type Db = Kysely<Tables>;

export type RowOfVisit = { readonly row: RegisterRow };

/** A row of the register, and where the pole stands, as this visit or else the one before tells it; null where none does. */
export type ExportRow = RowOfVisit & { readonly position: Position | null };

/** Rows as they come: all at once, or part by part. */
export type Parts<T> = Iterable<readonly T[]> | AsyncIterable<readonly T[]>;

/** Every visit of a workspace in parts of whole poles, poles in the order in which they came in, the visits of each by date. */
export async function* readExportRows(db: Db): AsyncGenerator<ExportRow[]> {
  for await (const poles of walkPoles(db)) yield await readPart(db, poles);
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
