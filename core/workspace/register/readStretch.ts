import { type Kysely, type RawBuilder, sql } from 'kysely';
import { isOneOf } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import type { StoredRow, ValueColumn } from './orders.ts';
import { isFacet, isOwn, type OwnWords, ownCondition } from './ownWords.ts';

type Db = Kysely<Tables>;
type Direction = 'asc' | 'desc';

/** A stretch of an order: visits that stand side by side in one index. */
export type Segment = {
  /** What is sorted by; null: pole and date alone. */
  readonly column: ValueColumn | null;
  readonly direction: Direction;
  /** Equal values stand by pole and date the other way round. */
  readonly isTurned: boolean;
  /** Visits in the index that is walked. */
  readonly inIndex: number;
  /** Facets all of whose visits are wanted; null: no need to ask, every visit of the index is. */
  readonly facetIds: readonly number[] | null;
  /** Wanted besides: visits that have the words for themselves. */
  readonly own: readonly OwnWords[];
  /** How many visits are wanted; where some words were not counted, at most. */
  readonly visits: number;
};

/** What a place in an order is told by: the value that is sorted by, then place and identity. */
export type Place = Partial<Omit<StoredRow, 'own_words'>> & Pick<StoredRow, 'place' | 'visit_id'>;

/** A place in a segment, of a visit or between two, and how many wanted visits stand ahead of it: reading goes on from there. */
export type Mark = { readonly offset: number; readonly row: Place };

/** Cost of an entry of an index that is passed by, beside that of a row that is fetched and sorted (measured on both databases). */
const ENTRY_COST = 0.05;

/** Identities of the wanted visits from a place on, walked to from whatever is nearest: an end, or a mark. */
export async function readStretch(
  db: Db,
  segment: Segment,
  offset: number,
  limit: number,
  marks: readonly Mark[],
): Promise<number[]> {
  const count = Math.min(limit, segment.visits - offset);
  const { skipped, fromEnd, from } = chooseWay(segment, offset, count, marks);
  const order = orderBy(segment, fromEnd);
  const entries = ((skipped + count) * segment.inIndex) / segment.visits;
  const query =
    segment.facetIds !== null && segment.visits < entries * ENTRY_COST
      ? sql<{ visit_id: number }>`
          WITH found AS MATERIALIZED (
            SELECT visit_id, place${segment.column === null ? sql`` : sql`, ${sql.ref(segment.column)}`}
            FROM register_rows WHERE ${gather(db, segment)} AND ${from})
          SELECT visit_id FROM found ORDER BY ${order} LIMIT ${count} OFFSET ${skipped}`
      : sql<{ visit_id: number }>`
          SELECT visit_id FROM register_rows WHERE ${isInside(db, segment)} AND ${from}
          ORDER BY ${order} LIMIT ${count} OFFSET ${skipped}`;
  const { rows } = await query.execute(db);
  const ids = rows.map((row) => row.visit_id);
  return fromEnd ? ids.reverse() : ids;
}

type Way = { readonly skipped: number; readonly fromEnd: boolean; readonly from: RawBuilder<boolean> };

function chooseWay(segment: Segment, offset: number, count: number, marks: readonly Mark[]): Way {
  const end = offset + count;
  const anywhere = sql<boolean>`1 = 1`;
  const ways: Way[] = [
    { skipped: offset, fromEnd: false, from: anywhere },
    { skipped: segment.visits - end, fromEnd: true, from: anywhere },
  ];
  const before = findNearest(marks, (mark) => offset - mark.offset);
  const behind = findNearest(marks, (mark) => mark.offset - end);
  if (before)
    ways.push({
      skipped: offset - before.offset,
      fromEnd: false,
      from: fromMark(segment, before.row, false),
    });
  if (behind)
    ways.push({ skipped: behind.offset - end, fromEnd: true, from: fromMark(segment, behind.row, true) });
  return ways.reduce((best, way) => (way.skipped < best.skipped ? way : best));
}

/** The mark from which the fewest are passed by; those of a negative distance lie on the other side. */
function findNearest(marks: readonly Mark[], distanceTo: (mark: Mark) => number): Mark | undefined {
  let nearest: Mark | undefined;
  for (const mark of marks) {
    const distance = distanceTo(mark);
    if (distance >= 0 && (nearest === undefined || distance < distanceTo(nearest))) nearest = mark;
  }
  return nearest;
}

/** SQL that is true of a visit and of those behind it in the order, or of those ahead of it. */
export function fromMark(
  { column, direction, isTurned }: Pick<Segment, 'column' | 'direction' | 'isTurned'>,
  row: Place,
  ahead: boolean,
): RawBuilder<boolean> {
  const isAbove = isTurned === ahead;
  const compareRows = (names: readonly string[]) => {
    const own = sql`(${sql.join(names.map((name) => row[name as keyof Place]))})`;
    const columns = sql`(${sql.join(names.map((name) => sql.ref(name)))})`;
    return ahead
      ? sql<boolean>`${columns} ${isAbove ? sql`>` : sql`<`} ${own}`
      : sql<boolean>`${columns} ${isAbove ? sql`>=` : sql`<=`} ${own}`;
  };
  if (column === null) return compareRows(['place', 'visit_id']);
  // where all of its columns rise together, an index is entered at the very place
  if ((direction === 'asc') !== isTurned) return compareRows([column, 'place', 'visit_id']);
  const name = sql.ref(column);
  const value = row[column];
  const sign = (direction === 'desc') === ahead ? sql`>` : sql`<`;
  // the first half of it lets an index be entered at the value
  return sql<boolean>`${name} ${sign}= ${value} AND (${name} ${sign} ${value} OR ${compareRows(['place', 'visit_id'])})`;
}

/** Identities of the first of the wanted visits, where it is not known how many there are. */
export async function readFirst(db: Db, segment: Segment, count: number): Promise<number[]> {
  const { rows } = await sql<{ visit_id: number }>`
    SELECT visit_id FROM register_rows WHERE ${isInside(db, segment)}
    ORDER BY ${orderBy(segment, false)} LIMIT ${count}`.execute(db);
  return rows.map((row) => row.visit_id);
}

/** Where a visit stands in every order; undefined where there is none. */
export async function findPlace(db: Db, visitId: number): Promise<Place | undefined> {
  return db.selectFrom('register_rows').selectAll().where('visit_id', '=', visitId).executeTakeFirst();
}

/** How many of the wanted visits stand before this one, counted from the mark or the end that is nearer; null where it is none of them. */
export async function countBefore(
  db: Db,
  segment: Segment,
  row: Place,
  marks: readonly Mark[],
): Promise<number | null> {
  const { rows: own } = await sql`
    SELECT 1 FROM register_rows WHERE visit_id = ${row.visit_id} AND ${isInside(db, segment)}`.execute(db);
  if (own.length === 0) return null;
  const isAhead = (mark: Mark) => compare(segment, mark.row, row) <= 0;
  const start = findNearest(marks.filter(isAhead), ({ offset }) => segment.visits - offset);
  const end = findNearest(
    marks.filter((mark) => !isAhead(mark)),
    ({ offset }) => offset,
  );
  const first = start?.offset ?? 0;
  const last = end?.offset ?? segment.visits;
  const behindStart = start ? fromMark(segment, start.row, false) : sql<boolean>`1 = 1`;
  const aheadOfEnd = end ? fromMark(segment, end.row, true) : sql<boolean>`1 = 1`;
  const ahead = sql<boolean>`${behindStart} AND ${fromMark(segment, row, true)}`;
  const between = sql<boolean>`${behindStart} AND ${aheadOfEnd}`;
  if (last - first <= FEW_COUNTED || (await guessShare(db, segment, { between, ahead })) <= 1 / 2) {
    return first + (await countWhere(db, segment, ahead));
  }
  const behind = sql<boolean>`${fromMark(segment, row, false)} AND ${aheadOfEnd}`;
  // what came in since the visits were counted stands in no list yet
  return Math.max(last - (await countWhere(db, segment, behind)), first);
}

/** Fewer visits are sooner counted, from whichever end. */
const FEW_COUNTED = 2000;
/** So many tell with near certainty on which side of a place two thirds of a segment lie. */
const SAMPLED = 64;

/** Of the visits of an index between two places, about which share stands ahead of a third: by some that came in at even distances. */
async function guessShare(
  db: Db,
  segment: Segment,
  { between, ahead }: { between: RawBuilder<boolean>; ahead: RawBuilder<boolean> },
): Promise<number> {
  const { last } = await db
    .selectFrom('register_rows')
    .select(({ fn }) => fn.max('visit_id').as('last'))
    .executeTakeFirstOrThrow();
  const ids = Array.from({ length: SAMPLED }, (_, i) => Math.ceil((last * (i + 1)) / SAMPLED));
  const { rows } = await sql<{ sampled: number; ahead: number }>`
    SELECT count(*) AS sampled, count(*) FILTER (WHERE ${ahead}) AS ahead
    FROM register_rows WHERE ${isOneOf(db, 'visit_id', ids)} AND ${isHeld(segment)} AND ${between}`.execute(
    db,
  );
  const { sampled, ahead: found } = rows[0]!;
  return sampled === 0 ? 0 : found / sampled;
}

/** Which of two places comes first in a segment, as the database has it: texts by their bytes. */
function compare({ column, direction, isTurned }: Segment, a: Place, b: Place): number {
  const byValue =
    column === null ? 0 : compareValues(a[column]!, b[column]!) * (direction === 'desc' ? -1 : 1);
  const byPlace = compareValues(a.place, b.place) || a.visit_id - b.visit_id;
  return byValue || (isTurned ? -byPlace : byPlace);
}

/** Of two values of a column, which comes first as the database has it. */
export function compareValues(a: string | number, b: string | number): number {
  if (typeof a === 'number' && typeof b === 'number') return a - b;
  return Buffer.compare(Buffer.from(String(a)), Buffer.from(String(b)));
}

async function countWhere(db: Db, segment: Segment, condition: RawBuilder<boolean>): Promise<number> {
  const { rows } = await sql<{ visits: number }>`
    SELECT count(*) AS visits FROM register_rows WHERE ${isInside(db, segment)} AND ${condition}`.execute(db);
  return rows[0]!.visits;
}

function orderBy({ column, direction, isTurned }: Segment, reversed: boolean): RawBuilder<unknown> {
  const word = (descending: boolean) => (descending !== reversed ? sql`DESC` : sql`ASC`);
  const ties = sql`place ${word(isTurned)}, visit_id ${word(isTurned)}`;
  return column === null ? ties : sql`${sql.ref(column)} ${word(direction === 'desc')}, ${ties}`;
}

/** SQL that is true of the wanted visits, asked of each entry of the index. */
function isInside(db: Db, segment: Segment): RawBuilder<boolean> {
  const { facetIds, own } = segment;
  const held = isHeld(segment);
  if (facetIds === null) return held;
  return sql<boolean>`${held} AND ${eitherOf([isFacet(db, facetIds), ...own.map((of) => listIds(db, of) ?? isOwn(db, of))])}`;
}

/** SQL that is true of what stands in the index of a segment. */
function isHeld({ column }: Segment): RawBuilder<boolean> {
  return column === null ? sql<boolean>`1 = 1` : sql<boolean>`${sql.ref(column)} IS NOT NULL`;
}

/** SQL that is true of the wanted visits, to be found by their facets and their words. */
function gather(db: Db, { facetIds, own }: Segment): RawBuilder<boolean> {
  const ids = facetIds ?? [];
  return eitherOf([
    ...(ids.length > 0 ? [isOneOf(db, 'facet_id', ids)] : []),
    ...own.map((of) => listIds(db, of) ?? ownCondition(db, of)),
  ]);
}

/** Null where they are too many to be listed. */
function listIds(db: Db, own: OwnWords): RawBuilder<boolean> | null {
  if (own.listed === null) return null;
  return isOneOf(
    db,
    'visit_id',
    own.listed.map(({ visitId }) => visitId),
  );
}

function eitherOf(conditions: readonly RawBuilder<boolean>[]): RawBuilder<boolean> {
  return sql<boolean>`(${sql.join([...conditions], sql` OR `)})`;
}
