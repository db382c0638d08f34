import fc from 'fast-check';
import { hashSha256 } from '../../core/hashSha256.ts';
import { packRecording } from '../../core/workspace/compression.ts';
import type { Store } from '../../core/workspace/index.ts';
import { refreshVisits } from '../../core/workspace/register/refreshPoles.ts';
import { insertRuling, markRuling } from '../../core/workspace/rulings.repository.ts';
import type { ResultSummary } from '../../core/workspace/summarise.ts';
import { appendTrail } from '../../core/workspace/trail/index.ts';
import { decodeVisitFile, insertVisit } from '../../core/workspace/visits.repository.ts';
import { makeVisitFile } from './visitSources.ts';

/** Names that sort by number, by sign, by accent and by capitals. */
const POLES = ['TV-1', 'TV-10', 'TV-2', 'tv-2', 'TV 3', 'tv_4', 'Ä-7', 'az-7', '12', 'TV-002a'];
const DATES = ['2016-05-03', '2024-11-30', '2026-05-03', '2026-05-04'];
const SPECIES = ['red-pine', 'douglas-fir'];

const interval = fc.constantFrom(1, 2, 3.5).map((value) => ({ value, low: value * 0.9, high: value * 1.1 }));
const maybe = <T>(values: fc.Arbitrary<T>) => fc.option(values, { nil: null, freq: 3 });
const few = fc.constantFrom(0, 0.02, 0.5, 0.97);

export const inventedSummary: fc.Arbitrary<ResultSummary> = fc.record({
  verdict: fc.constantFrom('assessed' as const, 'withheld' as const, 'failed' as const),
  frequenciesHz: fc.tuple(maybe(few), maybe(few), maybe(few)),
  modulusPa: maybe(few),
  fixity: maybe(few),
  identifiability: maybe(fc.constantFrom('separated', 'one-sided')),
  capacityNm: maybe(interval),
  lower5PercentNm: maybe(few),
  calibration: maybe(fc.constant('handbook')),
  program: maybe(fc.constant('Stemroot 1')),
  requirementNm: maybe(few),
  chanceBelow: maybe(few),
  thresholdNm: maybe(fc.constantFrom(1, 2)),
  chanceBelowThreshold: maybe(few),
  strikes: fc.constantFrom(
    { found: 4, usable: 4, faults: [] },
    { found: 4, usable: 1, faults: ['clipping', 'cut-short'] },
  ),
  findings: fc.subarray([
    { id: 'soft-root', text: 'Softer than its soil explains.' },
    { id: 'section-not-inspected', text: 'Nobody looked.' },
    { id: 'misfit', text: 'Off by 12 % at Mode 2.' },
  ]),
  modulusIntervalPa: maybe(interval),
  fixityInterval: maybe(interval),
  withheldBy: maybe(fc.constantFrom('chain' as const, 'calibration' as const)),
  withheldBecause: maybe(fc.constant('house@1: None of the tested poles are of red pine: too few.')),
  setByHand: fc.subarray(['density', 'picks']),
  modes: fc.array(
    fc.record({
      plane: fc.constantFrom(0, 1),
      azimuthDeg: fc.constantFrom(0, 85, 270),
      number: fc.constantFrom(1, 2),
      frequencyHz: fc.constantFrom(1.9, 2.1),
    }),
    { maxLength: 3 },
  ),
});

/** What is stored, one after the other; a number stands for one of the visits or rulings that are there. */
export const storedThing = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({
      kind: fc.constant('visit' as const),
      pole: fc.constantFrom(...POLES),
      date: fc.constantFrom(...DATES),
      species: fc.constantFrom(...SPECIES),
      recording: fc.nat(3),
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ kind: fc.constant('result' as const), of: fc.nat(20), summary: inventedSummary }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('ruling' as const),
      of: fc.nat(20),
      onLatest: fc.boolean(),
      reason: fc.constantFrom('sound by every look', 'Rot, 100 % sure'),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('mark' as const),
      of: fc.nat(20),
      mark: fc.constantFrom('signed' as const, 'withdrawn' as const),
    }),
  },
);

type Thing = typeof storedThing extends fc.Arbitrary<infer T> ? T : never;

/**
 * Stores things past the chain, each in a transaction of its own.
 * @param refresh - whether the register is brought up to date with a thing, as a change does, or left to whoever reads next
 */
export function createInventor(store: Store) {
  const { db } = store;
  const visits: { visitId: number; results: number[] }[] = [];
  const rulings = new Map<number, Set<string>>();
  let stored = 0;
  const pick = <T>(values: readonly T[], of: number) => values[of % values.length];

  return async function invent(thing: Thing, { refresh }: { refresh: boolean }): Promise<void> {
    const now = new Date(Date.UTC(2026, 4, 3, 0, Math.floor(stored++ / 2))).toISOString();
    await db.transaction().execute(async (transaction) => {
      let visitId: number | undefined;
      if (thing.kind === 'visit') {
        const json = makeVisitFile(thing.pole, { date: thing.date });
        const bytes = Buffer.from(
          JSON.stringify({ ...json, pole: { ...json.pole, species: thing.species } }),
        );
        const recording = Buffer.from(`recording ${thing.recording}`);
        const recordings = [
          {
            fileName: 'a.csv',
            sha256: hashSha256(recording),
            sizeBytes: recording.length,
            packed: packRecording(recording),
          },
        ];
        const sha256 = hashSha256(String(stored));
        const visit = decodeVisitFile(bytes, 'a.visit.json');
        visitId = await insertVisit(
          transaction,
          {
            fileName: 'a.visit.json',
            fileBytes: bytes,
            fileSha256: sha256,
            contentsSha256: sha256,
            visit,
            recordings,
          },
          now,
        );
        visits.push({ visitId, results: [] });
      } else if (thing.kind === 'mark') {
        const ruling = pick([...rulings], thing.of);
        if (!ruling || ruling[1].has(thing.mark)) return;
        await markRuling(transaction, ruling[0], thing.mark, 'B. Oss', now);
        ruling[1].add(thing.mark);
        const row = await transaction
          .selectFrom('rulings')
          .select('visit_id')
          .where('ruling_id', '=', ruling[0])
          .executeTakeFirstOrThrow();
        visitId = row.visit_id;
      } else {
        const visit = pick(visits, thing.of);
        if (!visit) return;
        visitId = visit.visitId;
        if (thing.kind === 'result') {
          const { assessment_id } = await transaction
            .insertInto('assessments')
            .values({
              visit_id: visitId,
              created_at: now,
              program: 'test',
              verdict: thing.summary.verdict as 'assessed',
              decisions_json: '[]',
              settings_json: '{}',
              inputs_json: '{}',
              inputs_sha256: hashSha256(''),
              result_json: '{}',
              summary_json: JSON.stringify(thing.summary),
            })
            .returning('assessment_id')
            .executeTakeFirstOrThrow();
          visit.results.push(assessment_id);
        } else {
          const assessmentId = (thing.onLatest ? visit.results.at(-1) : visit.results[0]) ?? null;
          const said = { analyst: 'A. Nalyst', decision: 'keep', reason: thing.reason } as const;
          rulings.set(await insertRuling(transaction, { visitId, assessmentId, ...said }, now), new Set());
        }
      }
      if (refresh) await refreshVisits(transaction, [visitId]);
      await appendTrail(transaction, { action: 'assess', subject: `thing ${stored}` });
    });
  };
}
