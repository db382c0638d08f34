import { type Kysely, type Selectable, sql } from 'kysely';
import { readStoredResult } from '../assessments.repository.ts';
import { listRulings, type RulingOfVisit } from '../rulings.repository.ts';
import { isTeam } from '../sqlWords.ts';
import { isWholeSummary, type ResultSummary, summarise } from '../summarise.ts';
import type { Tables } from '../tables.ts';

type Db = Kysely<Tables>;

/** Identities that were the last of each table when it was read; every table only grows. */
export type Seen = { visits: number; assessments: number; rulings: number; marks: number };

export const NOTHING_SEEN: Seen = { visits: 0, assessments: 0, rulings: 0, marks: 0 };

export type VisitFacts = {
  visitId: number;
  poleId: string;
  date: string;
  species: string;
  classCode: string | null;
  lengthM: number;
  recordings: readonly string[];
};

export type Growth = {
  seen: Seen;
  visits: VisitFacts[];
  /** In order of their identity, so that of one visit the last is the latest. */
  results: { visitId: number; assessmentId: number; summary: ResultSummary }[];
  /** New rulings, and older ones that were signed or withdrawn. */
  rulings: RulingOfVisit[];
};

/** Rows of a table that one reading takes in: few enough to be gone before the next are made. */
const MOST_AT_ONCE = 2000;

/** Reads what came into the workspace since it was last looked at, or the first part of it; nothing is left once a part is empty. */
export async function readGrowth(db: Db, seen: Seen): Promise<Growth> {
  const visits = await readVisits(db, seen.visits);
  // what is said of visits is read once all visits are there
  if (visits.length > 0) {
    return { visits, results: [], rulings: [], seen: { ...seen, visits: visits.at(-1)!.visitId } };
  }
  const isKnown = ({ visitId }: { visitId: number }) => visitId <= seen.visits;
  const results = takeWhile(await readResults(db, seen.assessments), isKnown);
  const marks = await db
    .selectFrom('ruling_marks')
    .select(['mark_id', 'ruling_id'])
    .where('mark_id', '>', seen.marks)
    .execute();
  const rulings = takeWhile((await listRulings(db, { after: seen.rulings })).toReversed(), isKnown);
  for (const { ruling_id } of marks) {
    if (ruling_id <= seen.rulings) rulings.push(...(await listRulings(db, { rulingId: ruling_id })));
  }
  const last = (before: number, ids: readonly number[]) => ids.reduce((a, b) => Math.max(a, b), before);
  return {
    visits: [],
    results,
    rulings,
    seen: {
      visits: seen.visits,
      assessments: last(
        seen.assessments,
        results.map((result) => result.assessmentId),
      ),
      rulings: last(
        seen.rulings,
        rulings.map(({ ruling }) => ruling.rulingId),
      ),
      marks: last(
        seen.marks,
        marks.map((mark) => mark.mark_id),
      ),
    },
  };
}

/** What came in between the readings of two tables may be about a visit not read yet: it waits for the next reading. */
function takeWhile<T>(values: readonly T[], test: (value: T) => boolean): T[] {
  const end = values.findIndex((value) => !test(value));
  return end < 0 ? [...values] : values.slice(0, end);
}

/** The facts of a pole as its visit file states them; a file that was imported is valid, and may begin with a byte order mark. */
async function readVisits(db: Db, after: number): Promise<VisitFacts[]> {
  const facts = isTeam(db)
    ? sql`(SELECT json_build_array(pole -> 'species', pole -> 'classCode', pole -> 'lengthM')::text
        FROM (SELECT ltrim(convert_from(file_bytes, 'UTF8'), chr(65279))::json -> 'pole' AS pole) AS stated)`
    : sql`json_extract(
        ltrim(CAST(file_bytes AS TEXT), char(0xFEFF)),
        '$.pole.species', '$.pole.classCode', '$.pole.lengthM'
      )`;
  const list = isTeam(db)
    ? sql`coalesce(json_agg(recording_sha256)::text, '[]')`
    : sql`json_group_array(recording_sha256)`;
  const { rows } = await sql<{
    visit_id: number;
    code: string;
    measured_on: string;
    facts: string;
    recordings: string;
  }>`
    SELECT visit_id, code, measured_on, ${facts} AS facts,
      (SELECT ${list} FROM visit_recordings
        WHERE visit_recordings.visit_id = visits.visit_id) AS recordings
    FROM visits JOIN poles USING (pole_id)
    WHERE visit_id > ${after} ORDER BY visit_id LIMIT ${MOST_AT_ONCE}`.execute(db);
  return rows.map((row) => {
    const [species, classCode, lengthM] = JSON.parse(row.facts) as [string, string | null, number];
    return {
      visitId: row.visit_id,
      poleId: row.code,
      date: row.measured_on,
      species,
      classCode,
      lengthM,
      recordings: JSON.parse(row.recordings) as string[],
    };
  });
}

async function readResults(db: Db, after: number): Promise<Growth['results']> {
  const rows = await db
    .selectFrom('assessments')
    .select(['assessment_id', 'visit_id', 'summary_json'])
    .where('assessment_id', '>', after)
    .orderBy('assessment_id')
    .limit(MOST_AT_ONCE)
    .execute();
  const results: Growth['results'] = [];
  for (const row of rows) {
    results.push({
      visitId: row.visit_id,
      assessmentId: row.assessment_id,
      summary: await readSummary(db, row),
    });
  }
  return results;
}

/** The stored summary of a result, or one made now where an earlier program kept less. */
export async function readSummary(
  db: Db,
  row: Pick<Selectable<Tables['assessments']>, 'assessment_id' | 'summary_json'>,
): Promise<ResultSummary> {
  const stored = JSON.parse(row.summary_json) as Partial<ResultSummary>;
  return isWholeSummary(stored) ? stored : summarise(await readStoredResult(db, row.assessment_id));
}
