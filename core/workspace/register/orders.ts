import type { z } from 'zod';
import type { registerQuerySchema } from '../contract/registerCalls.ts';
import type { RegisterRow } from '../contract.ts';
import type { RegisterTables } from '../registerTables.ts';

export type RegisterQuery = z.output<typeof registerQuerySchema>;
export type SortKey = RegisterQuery['sort']['key'];
export type StoredRow = RegisterTables['register_rows'];
/** Sort keys that have a column of their own; the others are read off the name of the pole or the facet. */
export type ValueKey = Exclude<SortKey, 'pole' | 'verdict'>;
export type ValueColumn = keyof Omit<StoredRow, 'visit_id' | 'place' | 'facet_id' | 'own_words'>;

type Order = {
  readonly column: ValueColumn;
  /** Of the index: the direction in which equal values stand by pole and date; in the other they stand the other way round. */
  readonly indexed: 'asc' | 'desc';
  readonly read: (row: RegisterRow) => string | number | null;
};

const shareOfThreshold = ({ capacityNm, thresholdNm }: RegisterRow) =>
  capacityNm !== null && thresholdNm !== null ? capacityNm.value / thresholdNm : null;

/** The orders that have an index, as the migrations make it. */
export const ORDERS: Readonly<Record<ValueKey, Order>> = {
  // a settled visit has no need: those stand together, by pole
  need: { column: 'need', indexed: 'desc', read: (row) => row.need.score || null },
  date: { column: 'measured_on', indexed: 'desc', read: (row) => row.date },
  f1: { column: 'f1', indexed: 'asc', read: (row) => row.frequenciesHz[0] ?? null },
  f2: { column: 'f2', indexed: 'asc', read: (row) => row.frequenciesHz[1] ?? null },
  f3: { column: 'f3', indexed: 'asc', read: (row) => row.frequenciesHz[2] ?? null },
  modulus: { column: 'modulus', indexed: 'asc', read: (row) => row.modulusPa },
  fixity: { column: 'fixity', indexed: 'asc', read: (row) => row.fixity },
  capacity: { column: 'capacity', indexed: 'asc', read: (row) => row.capacityNm?.value ?? null },
  requirement: { column: 'requirement', indexed: 'asc', read: (row) => row.requirementNm },
  chance: { column: 'chance', indexed: 'asc', read: (row) => row.chanceBelow },
  threshold: { column: 'threshold', indexed: 'asc', read: shareOfThreshold },
  thresholdChance: {
    column: 'threshold_chance',
    indexed: 'asc',
    read: (row) => row.chanceBelowThreshold,
  },
  ruling: { column: 'ruled_at', indexed: 'desc', read: (row) => row.ruling?.decidedAt ?? null },
};

export const VALUE_KEYS = Object.keys(ORDERS) as readonly ValueKey[];
