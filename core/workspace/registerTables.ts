import type { Generated } from 'kysely';

/**
 * Tables that the register is read from: computed from visits, results and rulings, and built anew from them at any time. The
 * trail does not tell of them.
 */
export type RegisterTables = {
  /** What a visit is sorted by and found by; null where it has no such value. */
  register_rows: {
    visit_id: number;
    /** Name of the pole as it is sorted, then the date. */
    place: string;
    facet_id: number;
    measured_on: string;
    need: number | null;
    f1: number | null;
    f2: number | null;
    f3: number | null;
    modulus: number | null;
    fixity: number | null;
    capacity: number | null;
    requirement: number | null;
    chance: number | null;
    threshold: number | null;
    threshold_chance: number | null;
    ruled_at: string | null;
    own_words: string;
  };
  /** The row as it is shown. */
  register_texts: {
    visit_id: number;
    row_json: string;
  };
  /** What many visits have in common, each different set of it once, and how many visits have it. */
  register_facets: {
    facet_id: Generated<number>;
    facet_sha256: string;
    facet_json: string;
    visits: number;
  };
  /** Poles of which something was stored that the register does not show yet. */
  register_stale: {
    pole_id: number;
  };
  /** One row. */
  register_state: {
    /** Changes with every change of the register. */
    revision: number;
    /** How the program that brought all poles up to date last composes rows; 0: no program did. */
    composition: number;
  };
  /** Bounds of the ranges of an order; in a team store alone. */
  register_bounds: {
    column_name: string;
    number: number | null;
    text: string | null;
    place: string;
  };
  /** Visits of a facet in a range of an order: between as many bounds as its number and the next; in a team store alone. */
  register_counts: {
    column_name: string;
    range_number: number;
    facet_id: number;
    visits: number;
  };
};
