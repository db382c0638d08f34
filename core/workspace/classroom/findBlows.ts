import type { z } from 'zod';
import { StemrootError } from '../../errors.ts';
import type { classroomCalls } from '../contract/classroomCalls.ts';
import type { CallResponse } from '../contract.ts';
import { joinTexts } from '../sqlWords.ts';
import type { Store } from '../store.ts';
import type { ResultSummary } from '../summarise.ts';
import type { Blow, JudgedBlows } from './judgedBlows.ts';

/** What a search may also name. */
const EXCITERS = ['hammer', 'hand', 'unknown'] as const;

type Query = z.output<(typeof classroomCalls)['classroom.findBlows']['request']>;

/**
 * Looks through the visits in the order in which they came in, some at a time, for blows with a fault. A visit whose stored
 * result does not tell of the fault is passed over unread; what cannot be read is passed over too.
 */
export async function findBlows(
  { db }: Store,
  judged: JudgedBlows,
  { words, fault, afterVisitId, visits }: Query,
): Promise<CallResponse<'classroom.findBlows'>> {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  const rows = await db
    .selectFrom('visits')
    .innerJoin('poles', 'poles.pole_id', 'visits.pole_id')
    .where('visits.visit_id', '>', afterVisitId)
    .select((eb) => [
      'visits.visit_id',
      'poles.code',
      'visits.measured_on',
      eb
        .selectFrom('visit_recordings')
        .whereRef('visit_recordings.visit_id', '=', 'visits.visit_id')
        .select(({ ref }) => joinTexts(db, ref('file_name')).as('names'))
        .as('recording_names'),
      eb
        .selectFrom('assessments')
        .whereRef('assessments.visit_id', '=', 'visits.visit_id')
        .select('assessments.summary_json')
        .orderBy('assessments.assessment_id', 'desc')
        .limit(1)
        .as('summary_json'),
    ])
    .orderBy('visits.visit_id')
    .limit(visits)
    .execute();
  const blows: Blow[] = [];
  for (const row of rows) {
    const { code, measured_on, recording_names } = row;
    const holds = (...texts: (string | null)[]) =>
      wanted.every((word) => `${code} ${measured_on} ${texts.join(' ')}`.toLowerCase().includes(word));
    if (!holds(recording_names, ...EXCITERS) || !mayShow(row.summary_json, fault)) continue;
    const found = await readBlows(judged, row.visit_id);
    blows.push(
      ...found.filter((blow) => holds(blow.recordingFile, blow.exciter) && fits(blow.faults, fault)),
    );
  }
  const last = rows.at(-1)?.visit_id ?? afterVisitId;
  const { left } = await db
    .selectFrom('visits')
    .where('visit_id', '>', last)
    .select((eb) => eb.fn.countAll<number>().as('left'))
    .executeTakeFirstOrThrow();
  return { blows, nextAfter: left > 0 ? last : null, looked: rows.length, left };
}

/** A visit with recordings that this program cannot read teaches nothing, and keeps no other from being found. */
async function readBlows(judged: JudgedBlows, visitId: number): Promise<Blow[]> {
  try {
    return (await judged.ofVisit(visitId)).map(({ blow }) => blow);
  } catch (error) {
    if (error instanceof StemrootError) return [];
    throw error;
  }
}

/** False where a stored result rules the fault out. Agreement of blows is not told in it. */
function mayShow(summaryJson: string | null, fault: Query['fault']): boolean {
  if (summaryJson === null || fault === null || fault === 'none' || fault === 'repeatability') return true;
  const { strikes } = JSON.parse(summaryJson) as Partial<ResultSummary>;
  if (!strikes || strikes.found === 0) return true;
  return fault === 'any' ? strikes.faults.length > 0 : strikes.faults.includes(fault);
}

function fits(faults: Blow['faults'], fault: Query['fault']): boolean {
  if (fault === null) return true;
  if (fault === 'any') return faults.length > 0;
  return fault === 'none' ? faults.length === 0 : faults.includes(fault);
}
