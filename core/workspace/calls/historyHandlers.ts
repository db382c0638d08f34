import { findLatestAssessment, type StoredAssessment } from '../assessments.repository.ts';
import type { historyCalls } from '../contract/historyCalls.ts';
import type { CallResponse } from '../contract.ts';
import type { HandlersOf } from '../handlers.ts';
import { corrects } from '../register/buildRows.ts';
import { type DatedSummary, tellChanges } from '../register/tellChanges.ts';
import { listRulingsOfVisit } from '../rulings.repository.ts';
import type { Store } from '../store.ts';
import { NOT_ASSESSED, type ResultSummary, summarise } from '../summarise.ts';
import { getVisit, listRecordingsOfVisit, listVisitsOfPole } from '../visits.repository.ts';

type HistoryVisit = CallResponse<'pole.history'>['visits'][number];

export function createHistoryHandlers({ db }: Store): HandlersOf<typeof historyCalls> {
  return {
    'pole.history': async ({ visitId }) => {
      const { visit } = await getVisit(db, visitId);
      const visits: { entry: HistoryVisit; summary: ResultSummary; recordings: string[] }[] = [];
      for (const stored of await listVisitsOfPole(db, visit.pole.id)) {
        const latest = await findLatestAssessment(db, stored.visitId);
        const rulings = await listRulingsOfVisit(db, stored.visitId);
        const summary = latest ? summarise(latest.result) : NOT_ASSESSED;
        const entry: HistoryVisit = {
          ...stored,
          correctedBy: null,
          changes: null,
          assessmentId: latest?.assessmentId ?? null,
          ...describeResult(summary, latest),
          ruling: rulings.find(({ withdrawn }) => withdrawn === null) ?? null,
        };
        const recordings = await listRecordingsOfVisit(db, stored.visitId);
        visits.push({ entry, summary, recordings: recordings.map(({ sha256 }) => sha256) });
      }
      const facts = visits.map(({ entry, recordings }) => ({
        facts: { visitId: entry.visitId, recordings },
      }));
      const earlier: DatedSummary[] = [];
      for (const [i, { entry, summary }] of visits.entries()) {
        const correction = facts.find((other) => corrects(other, facts[i]!));
        entry.correctedBy = correction?.facts.visitId ?? null;
        if (correction) continue;
        entry.changes = tellChanges(earlier, summary)?.words ?? null;
        if (entry.assessmentId !== null) earlier.push({ date: entry.date, summary });
      }
      return {
        poleId: visit.pole.id,
        latitude: visit.pole.latitude ?? null,
        longitude: visit.pole.longitude ?? null,
        visits: visits.map(({ entry }) => entry),
      };
    },
  };
}

function describeResult(summary: ResultSummary, latest: StoredAssessment | null) {
  const result = latest && !('error' in latest.result) ? latest.result : null;
  const stiffness = result?.root?.rotationalStiffnessNmPerRad;
  return {
    verdict: summary.verdict,
    modulusPa: summary.modulusIntervalPa,
    fixity: summary.fixityInterval,
    rotationalStiffnessNmPerRad: stiffness
      ? { value: stiffness.value, low: stiffness.low, high: stiffness.high }
      : null,
    capacityNm: summary.capacityNm,
    requirementNm: summary.requirementNm,
    thresholdNm: summary.thresholdNm,
    modes: (result?.modes ?? []).map(({ plane, azimuthDeg, number, frequencyHz }) => ({
      plane,
      azimuthDeg,
      number,
      frequencyHz,
    })),
  };
}
