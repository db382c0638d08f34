import type { Kysely } from 'kysely';
import { RecentCache } from '../recentCache.ts';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { countVisits, readFacets, type StoredFacet } from './facets.ts';
import { ORDERS, type RegisterQuery } from './orders.ts';
import { countOwn, isShort, listOwn, matchWords, type OwnWords } from './ownWords.ts';
import { readBounds } from './ranges.ts';
import { countBefore, findPlace, type Mark, readFirst, readStretch, type Segment } from './readStretch.ts';
import { listWords } from './splitWords.ts';

type Db = Kysely<Tables>;
type Count = { value: string; visits: number };

export type Found = {
  readonly total: number;
  /** How many visits can be read. */
  readonly matching: number;
  /** More than this have the words, nobody counted how many; only the first {@link matching} of the order can be read. null: all were counted. */
  readonly moreThan: number | null;
  /** Identities of the visits at these places, in order. */
  read(offset: number, limit: number): Promise<number[]>;
  /** The place of a visit, from 0; null where it is not among these. */
  locate(visitId: number): Promise<number | null>;
};

export type Finder = {
  /** @param options.whole - count and read every visit that is found, however long that takes @default false */
  find(query: RegisterQuery, options?: { whole?: boolean }): Promise<Found>;
  /** How many visits have each reason, verdict and species, over the whole register. */
  count(): Promise<{ reasons: Count[]; verdicts: Count[]; species: Count[] }>;
  /** Poles, and visits in all and not assessed. */
  summarise(): Promise<{ poles: number; visits: number; notAssessed: number }>;
};

/** Visits found by words of their own that are counted, and whose identities are held in memory. */
const MOST_COUNTED = 5000;
/** So few visits are sooner passed by than the ranges of their order are asked for. */
const FEW_PASSED = 2000;
/** Somebody goes back and forth between a few orders and filters. */
const KEPT_LISTS = 8;
/** Where there are more, so many of the order are read: beyond them somebody types another word rather than walks on. */
const REACH = 1000;
/** Of words of one or two letters, which a million visits would be looked through for while somebody is still typing. */
const MOST_COUNTED_BY_SHORT = REACH;

/**
 * Finds visits in the stored register. What many visits have in common is stored once, as facets with a count: filters and words are
 * matched against those in memory, so that counts need no row; what is left to the database is to walk an index, or to look for
 * words that are one visit's own. Where very many visits have them, they are neither counted nor read to the end. Facets and the last
 * few lists are kept until the register changes.
 */
export function createFinder(db: Db): Finder {
  let revision = -1;
  let facets: StoredFacet[] = [];
  let recent = new RecentCache<string, Found>(KEPT_LISTS);

  async function follow(): Promise<void> {
    const state = await db.selectFrom('register_state').select('revision').executeTakeFirstOrThrow();
    if (state.revision === revision) return;
    facets = await readFacets(db);
    revision = state.revision;
    recent = new RecentCache(KEPT_LISTS);
  }

  return {
    async find(query, { whole = false } = {}) {
      await follow();
      // where the register changes meanwhile, what is found goes with the lists of before
      return recent.get(JSON.stringify([query, whole]), () => search(db, facets, query, whole));
    },
    async count() {
      await follow();
      return countFacets(facets);
    },
    async summarise() {
      await follow();
      const of = (test: (facet: StoredFacet) => boolean) => countVisits(facets.filter(test));
      return {
        // of the visits to a pole one is the latest
        poles: of(({ isLatest }) => isLatest),
        visits: countVisits(facets),
        notAssessed: of(({ verdict }) => verdict === 'not assessed'),
      };
    },
  };
}

async function search(
  db: Db,
  facets: readonly StoredFacet[],
  query: RegisterQuery,
  isWhole: boolean,
): Promise<Found> {
  const words = [...new Set(listWords(query.search))];
  const fitting = facets.filter((facet) => passes(facet, query));
  // of each facet, the words that a visit must have for itself
  const missing = Map.groupBy(fitting, (facet) =>
    JSON.stringify(words.filter((word) => !facet.words.includes(word))),
  );
  const all = missing.get('[]') ?? [];
  missing.delete('[]');
  const own: OwnWords[] = [];
  for (const [json, some] of missing) {
    const found = await searchOwn(db, JSON.parse(json) as string[], some, isWhole);
    if (found.counts.size > 0) own.push(found);
  }
  const segments = listStretches(facets, query.sort).map((stretch) =>
    cutSegment(stretch, { facets, all, own }),
  );
  const total = countVisits(facets);
  const uncounted = isWhole ? [] : own.filter(({ listed }) => listed === null);
  if (uncounted.length === 0) return readAny(db, segments, total);
  const moreThan = Math.max(...uncounted.map((of) => mostCounted(of.words)));
  return readHead(db, segments, { total, moreThan });
}

/** Visits of some facets that have words for themselves. */
async function searchOwn(
  db: Db,
  words: readonly string[],
  facets: readonly StoredFacet[],
  isWhole: boolean,
): Promise<OwnWords> {
  const match = isTeam(db) ? null : await matchWords(db, words);
  const asked = { words, facetIds: facets.map(({ facetId }) => facetId), match };
  const most = mostCounted(words);
  const listed = await listOwn(db, asked, { most, ofFacets: countVisits(facets) });
  if (listed) {
    const byFacet = Map.groupBy(listed, ({ facetId }) => facetId);
    return { ...asked, listed, counts: new Map([...byFacet].map(([id, rows]) => [id, rows.length])) };
  }
  const counts = isWhole
    ? await countOwn(db, asked)
    : new Map(facets.map(({ facetId, visits }) => [facetId, visits]));
  return { ...asked, listed, counts };
}

function mostCounted(words: readonly string[]): number {
  return words.every(isShort) ? MOST_COUNTED_BY_SHORT : MOST_COUNTED;
}

type Parts = {
  facets: readonly StoredFacet[];
  /** Those all of whose visits are found. */
  all: readonly StoredFacet[];
  own: readonly OwnWords[];
};

/** What of the visits that are found stands in a stretch. */
function cutSegment({ scope, isWhole, ...order }: Stretch, { facets, all, own }: Parts): Segment {
  const ids = new Set(scope.map(({ facetId }) => facetId));
  const inside = all.filter(({ facetId }) => ids.has(facetId));
  const part = own.flatMap((of): OwnWords[] => {
    const counts = new Map([...of.counts].filter(([id]) => ids.has(id)));
    if (counts.size === 0) return [];
    const listed = of.listed?.filter(({ facetId }) => ids.has(facetId)) ?? null;
    return [{ ...of, facetIds: of.facetIds.filter((id) => ids.has(id)), listed, counts }];
  });
  const owned = part.reduce((sum, { counts }) => sum + [...counts.values()].reduce((a, b) => a + b, 0), 0);
  return {
    ...order,
    inIndex: countVisits(order.column === null ? facets : scope),
    facetIds: inside.length === scope.length && isWhole ? null : inside.map(({ facetId }) => facetId),
    own: part,
    visits: countVisits(inside) + owned,
  };
}

/** Of visits that are all counted, any can be read. */
function readAny(db: Db, segments: readonly Segment[], total: number): Found {
  // somebody who jumps into the middle of a long list reads on from there
  const latest = new Map<Segment, Mark>();
  const bounds = new Map<Segment, readonly Mark[]>();

  async function listMarks(segment: Segment): Promise<readonly Mark[]> {
    const own = bounds.get(segment) ?? (await readBounds(db, segment));
    bounds.set(segment, own);
    return [latest.get(segment) ?? [], own].flat();
  }

  async function readPart(segment: Segment, from: number, count: number): Promise<number[]> {
    const passed = Math.min(from, segment.visits - from - count);
    const marks = passed > FEW_PASSED ? await listMarks(segment) : [];
    const ids = await readStretch(db, segment, from, count, marks);
    const row = ids[0] === undefined ? undefined : await findPlace(db, ids[0]);
    if (row) latest.set(segment, { offset: from, row });
    return ids;
  }

  return {
    total,
    matching: segments.reduce((sum, { visits }) => sum + visits, 0),
    moreThan: null,
    async read(offset, limit) {
      const ids: number[] = [];
      let start = 0;
      for (const segment of segments) {
        const from = Math.max(offset - start, 0);
        const count = Math.min(limit - ids.length, segment.visits - from);
        if (count > 0) ids.push(...(await readPart(segment, from, count)));
        start += segment.visits;
      }
      return ids;
    },
    async locate(visitId) {
      const row = await findPlace(db, visitId);
      if (!row) return null;
      let start = 0;
      for (const segment of segments) {
        const before = await countBefore(db, segment, row, await listMarks(segment));
        if (before !== null) return start + before;
        start += segment.visits;
      }
      return null;
    },
  };
}

/** Of visits that nobody counted, the first of the order. */
function readHead(
  db: Db,
  segments: readonly Segment[],
  { total, moreThan }: { total: number; moreThan: number },
): Found {
  let head: number[] = [];
  const reach = async (count: number) => {
    if (head.length >= count) return head;
    const ids: number[] = [];
    for (const segment of segments) {
      const wanted = count - ids.length;
      if (wanted > 0 && segment.visits > 0) ids.push(...(await readFirst(db, segment, wanted)));
    }
    head = ids;
    return head;
  };
  return {
    total,
    matching: REACH,
    moreThan,
    async read(offset, limit) {
      const end = Math.min(offset + limit, REACH);
      return (await reach(end)).slice(offset, end);
    },
    async locate(visitId) {
      const place = (await reach(REACH)).indexOf(visitId);
      return place < 0 ? null : place;
    },
  };
}

function passes(facet: StoredFacet, query: RegisterQuery): boolean {
  return (
    (query.ruled === 'any' || facet.isRuled === (query.ruled === 'ruled')) &&
    (!query.latestOnly || facet.isLatest) &&
    (query.reasons.length === 0 || facet.reasons.some((kind) => query.reasons.includes(kind))) &&
    (query.verdicts.length === 0 || query.verdicts.includes(facet.verdict)) &&
    (query.species.length === 0 || query.species.includes(facet.species))
  );
}

type Stretch = Pick<Segment, 'column' | 'direction' | 'isTurned'> & {
  /** Whatever stands in the index stands in this stretch. */
  isWhole: boolean;
  /** Facets whose visits stand here. */
  scope: readonly StoredFacet[];
};

/**
 * An order as stretches that follow each other: visits with a value, and those without, by pole. Each is one index, walked one way.
 */
function listStretches(
  facets: readonly StoredFacet[],
  { key, descending }: RegisterQuery['sort'],
): Stretch[] {
  const direction = descending ? 'desc' : 'asc';
  const byPole = { column: null, direction: 'asc', isTurned: false } as const;
  if (key === 'pole') {
    return [{ column: null, direction, isTurned: descending, isWhole: true, scope: facets }];
  }
  if (key === 'verdict') {
    const groups = [...Map.groupBy(facets, ({ verdict }) => verdict)].sort(([a], [b]) => (a < b ? -1 : 1));
    if (descending) groups.reverse();
    return groups.map(([, scope]) => ({ ...byPole, isWhole: groups.length === 1, scope }));
  }
  const { column, indexed } = ORDERS[key];
  const [held, rest] = [true, false].map((wanted) =>
    facets.filter(({ holds }) => holds.includes(key) === wanted),
  ) as [StoredFacet[], StoredFacet[]];
  const stretches = [
    { column, direction, isTurned: direction !== indexed, isWhole: true, scope: held } as const,
    { ...byPole, isWhole: held.length === 0, scope: rest },
  ];
  // without a need is not without a value: it is the smallest
  return key === 'need' && !descending ? stretches.reverse() : stretches;
}

function countFacets(facets: readonly StoredFacet[]) {
  const count = (read: (facet: StoredFacet) => readonly string[]) => {
    const counts = new Map<string, number>();
    for (const facet of facets) {
      for (const value of read(facet)) counts.set(value, (counts.get(value) ?? 0) + facet.visits);
    }
    return [...counts]
      .map(([value, visits]) => ({ value, visits }))
      .sort((a, b) => b.visits - a.visits || (a.value < b.value ? -1 : 1));
  };
  return {
    reasons: count(({ reasons }) => reasons),
    verdicts: count(({ verdict }) => [verdict]),
    species: count(({ species }) => [species]),
  };
}
