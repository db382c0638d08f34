import type { Kysely } from 'kysely';
import { hashSha256 } from '../../hashSha256.ts';
import type { RegisterRow } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { ORDERS, VALUE_KEYS, type ValueKey } from './orders.ts';
import { splitWords } from './splitWords.ts';

type NeedKind = RegisterRow['need']['reasons'][number]['kind'];

/** What a visit has in common with others: all that filters ask for. Different ones are a few hundred, whatever the number of visits. */
export type Facet = {
  readonly species: string;
  readonly verdict: RegisterRow['verdict'];
  readonly isRuled: boolean;
  readonly isLatest: boolean;
  readonly reasons: readonly NeedKind[];
  /** Orders in which the visit has a value. */
  readonly holds: readonly ValueKey[];
  /** Words in lower case. */
  readonly words: string;
};

export type StoredFacet = Facet & { readonly facetId: number; readonly visits: number };

export function facetOf(row: RegisterRow): Facet {
  return {
    species: row.species,
    verdict: row.verdict,
    isRuled: row.ruling !== null,
    isLatest: row.standing === 'latest',
    reasons: [...new Set(row.need.reasons.map(({ kind }) => kind))].sort(),
    holds: VALUE_KEYS.filter((key) => ORDERS[key].read(row) !== null),
    words: splitWords(row).shared,
  };
}

/** The text that a facet is stored as, and its hash, which tells equal ones. */
export function sealFacet(facet: Facet): { facet_json: string; facet_sha256: string } {
  const facet_json = JSON.stringify(facet);
  return { facet_json, facet_sha256: hashSha256(facet_json) };
}

export async function readFacets(db: Kysely<Tables>): Promise<StoredFacet[]> {
  const rows = await db
    .selectFrom('register_facets')
    .select(['facet_id', 'facet_json', 'visits'])
    .where('visits', '>', 0)
    .orderBy('facet_id')
    .execute();
  return rows.map((row) => ({
    ...(JSON.parse(row.facet_json) as Facet),
    facetId: row.facet_id,
    visits: row.visits,
  }));
}

/** How many visits have these facets together. */
export function countVisits(facets: readonly StoredFacet[]): number {
  return facets.reduce((sum, { visits }) => sum + visits, 0);
}
