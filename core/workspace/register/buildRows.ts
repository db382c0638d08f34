import type { RegisterRow, Ruling } from '../contract.ts';
import { NOT_ASSESSED, type ResultSummary } from '../summarise.ts';
import { rankNeed } from './rankNeed.ts';
import type { Sharer } from './readSharers.ts';
import { type DatedSummary, tellChanges } from './tellChanges.ts';
import { tellSharer } from './tellSharer.ts';

export type VisitFacts = {
  visitId: number;
  poleId: string;
  date: string;
  species: string;
  classCode: string | null;
  lengthM: number;
  /** A sound shell was bored there and entered. */
  isGroundLineInspected: boolean;
  recordings: readonly string[];
  /** A visit to another pole that has one of these recordings. */
  sharer: Sharer | null;
};

/** What is known of one visit. */
export type VisitEntry = {
  facts: VisitFacts;
  assessmentId: number | null;
  summary: ResultSummary | null;
  /** Latest first. */
  rulings: readonly Ruling[];
};

/** Rows of the visits to one pole, by date, each knowing the ones before and after it. */
export function buildRows(visits: readonly VisitEntry[]): RegisterRow[] {
  const byDate = [...visits].sort(
    (a, b) => compareTexts(a.facts.date, b.facts.date) || a.facts.visitId - b.facts.visitId,
  );
  const standing = byDate.filter((entry) => !byDate.some((other) => corrects(other, entry)));
  return byDate.map((entry) => {
    const place = standing.indexOf(entry);
    const { facts, assessmentId } = entry;
    const summary = entry.summary ?? NOT_ASSESSED;
    const changes = tellChanges(listEarlier(standing, place), summary);
    const compared = [
      ...(facts.sharer ? [tellSharer(facts.sharer)] : []),
      ...(changes ? [changes.finding] : []),
    ];
    // kept for changes and reasons, and no part of a row
    const {
      withheldBy: _withheldBy,
      withheldBecause: _withheldBecause,
      setByHand: _setByHand,
      modes: _modes,
      ...shown
    } = summary;
    const ruling = entry.rulings.find(({ withdrawn }) => withdrawn === null) ?? null;
    const rank = place < 0 ? 'corrected' : place === standing.length - 1 ? 'latest' : 'earlier';
    return {
      visitId: facts.visitId,
      poleId: facts.poleId,
      species: facts.species,
      classCode: facts.classCode,
      lengthM: facts.lengthM,
      date: facts.date,
      isGroundLineInspected: facts.isGroundLineInspected,
      assessmentId,
      ...shown,
      findings: [...compared, ...summary.findings],
      ruling,
      standing: rank,
      need: rankNeed({
        summary,
        assessmentId,
        standing: rank,
        ruling,
        changes,
        sharer: facts.sharer,
      }),
    };
  });
}

/** The results before a place, by date. */
function listEarlier(standing: readonly VisitEntry[], place: number): DatedSummary[] {
  return standing
    .slice(0, Math.max(place, 0))
    .flatMap(({ facts: { date }, summary }) => (summary ? [{ date, summary }] : []));
}

/** A file brought in later that shares a recording, byte for byte, tells of the same visit to the pole. */
export function corrects(
  later: { facts: Pick<VisitFacts, 'visitId' | 'recordings'> },
  earlier: { facts: Pick<VisitFacts, 'visitId' | 'recordings'> },
): boolean {
  return (
    later.facts.visitId > earlier.facts.visitId &&
    later.facts.recordings.some((sha256) => earlier.facts.recordings.includes(sha256))
  );
}

function compareTexts(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
