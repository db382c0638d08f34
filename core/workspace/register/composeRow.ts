import type { Kysely } from 'kysely';
import type { RegisterRow } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { buildRows } from './buildRows.ts';
import { facetOf, sealFacet } from './facets.ts';
import { ORDERS, type StoredRow, VALUE_KEYS, type ValueColumn } from './orders.ts';
import { readEntries } from './readEntries.ts';
import { sortablePole } from './sortablePole.ts';
import { splitWords } from './splitWords.ts';

type Db = Kysely<Tables>;

/** A row of the register as it is to be stored; its facet still as text. */
export type ComputedRow = {
  readonly columns: Omit<StoredRow, 'facet_id'>;
  readonly facet: { readonly facet_json: string; readonly facet_sha256: string };
  readonly row_json: string;
};

/** Rows of poles as they are to be stored. */
export async function computeRows(db: Db, poleNumbers: readonly number[]): Promise<ComputedRow[]> {
  const entries = await readEntries(db, poleNumbers);
  return [...Map.groupBy(entries, ({ poleNumber }) => poleNumber).values()].flatMap((visits) =>
    buildRows(visits).map(composeRow),
  );
}

function composeRow(row: RegisterRow): ComputedRow {
  const values = VALUE_KEYS.map((key) => [ORDERS[key].column, ORDERS[key].read(row)]);
  return {
    columns: {
      visit_id: row.visitId,
      place: `${sortablePole(row.poleId)}\u0001${row.date}`,
      own_words: splitWords(row).own,
      ...(Object.fromEntries(values) as Pick<StoredRow, ValueColumn>),
    },
    facet: sealFacet(facetOf(row)),
    row_json: JSON.stringify(row),
  };
}
