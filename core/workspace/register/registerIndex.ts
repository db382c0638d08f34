import type { Kysely } from 'kysely';
import type { RegisterRow, Ruling } from '../contract.ts';
import { NOT_ASSESSED, type ResultSummary } from '../summarise.ts';
import type { Tables } from '../tables.ts';
import { unknownVisit } from '../visits.repository.ts';
import { rankNeed } from './rankNeed.ts';
import { type Growth, NOTHING_SEEN, readGrowth, type VisitFacts } from './readGrowth.ts';
import { textOfRow } from './textOfRow.ts';

/** A row, and the words in it that a search goes through. */
export type IndexedRow = { readonly row: RegisterRow; readonly text: string };

export type Register = {
  /** By pole, date and identity. */
  readonly rows: readonly IndexedRow[];
  readonly poles: number;
  /** Changes with every change of a row. */
  readonly revision: number;
};

export type RegisterIndex = {
  /** The register as the workspace stands now. */
  read(): Promise<Register>;
  /** The row of a visit, as last read. @throws InputError `visit.unknown` */
  get(visitId: number): RegisterRow;
};

type Entry = {
  facts: VisitFacts;
  assessmentId: number | null;
  summary: ResultSummary | null;
  /** Latest first. */
  rulings: Ruling[];
};

const byName = new Intl.Collator('en', { numeric: true });

/**
 * The register of a workspace in memory. Evidence, results and rulings are only ever added, so each reading takes in
 * what is new and rebuilds the rows of the poles that it touches: the first reading of 100,000 visits takes seconds, each
 * later one milliseconds.
 */
export function createRegisterIndex(db: Kysely<Tables>): RegisterIndex {
  const entries = new Map<number, Entry>();
  const visitsOfPole = new Map<string, number[]>();
  const rowsOfPole = new Map<string, IndexedRow[]>();
  let seen = NOTHING_SEEN;
  let register: Register = { rows: [], poles: 0, revision: 0 };
  let reading: Promise<Register> | null = null;

  function takeIn({ visits, results, rulings }: Growth): Set<string> {
    const touched = new Set<string>();
    for (const facts of visits) {
      entries.set(facts.visitId, { facts, assessmentId: null, summary: null, rulings: [] });
      const own = visitsOfPole.get(facts.poleId);
      if (own) own.push(facts.visitId);
      else visitsOfPole.set(facts.poleId, [facts.visitId]);
      touched.add(facts.poleId);
    }
    const touch = (visitId: number) => {
      const entry = entries.get(visitId)!;
      touched.add(entry.facts.poleId);
      return entry;
    };
    for (const { visitId, assessmentId, summary } of results)
      Object.assign(touch(visitId), { assessmentId, summary });
    for (const { visitId, ruling } of rulings) {
      const entry = touch(visitId);
      const others = entry.rulings.filter((known) => known.rulingId !== ruling.rulingId);
      entry.rulings = [...others, ruling].sort((a, b) => b.rulingId - a.rulingId);
    }
    return touched;
  }

  async function refresh(): Promise<Register> {
    const growth = await readGrowth(db, seen);
    const touched = takeIn(growth);
    seen = growth.seen;
    if (touched.size === 0) return register;
    for (const poleId of touched) {
      const own = visitsOfPole.get(poleId)!.map((visitId) => entries.get(visitId)!);
      rowsOfPole.set(poleId, buildRows(own));
    }
    const poles = [...rowsOfPole.keys()].sort(byName.compare);
    register = {
      rows: poles.flatMap((poleId) => rowsOfPole.get(poleId)!),
      poles: poles.length,
      revision: register.revision + 1,
    };
    return register;
  }

  return {
    read() {
      reading ??= refresh().finally(() => {
        reading = null;
      });
      return reading;
    },
    get(visitId) {
      const entry = entries.get(visitId);
      const own = entry && rowsOfPole.get(entry.facts.poleId);
      const found = own?.find(({ row }) => row.visitId === visitId);
      if (found) return found.row;
      throw unknownVisit(visitId);
    },
  };
}

/** Rows of one pole by date, each knowing the ones before and after it. */
function buildRows(visits: readonly Entry[]): IndexedRow[] {
  const byDate = [...visits].sort(
    (a, b) => a.facts.date.localeCompare(b.facts.date) || a.facts.visitId - b.facts.visitId,
  );
  const isCorrected = (entry: Entry) => byDate.some((other) => corrects(other, entry));
  const standing = byDate.filter((entry) => !isCorrected(entry));
  return byDate.map((entry) => {
    const place = standing.indexOf(entry);
    const before = standing.slice(0, Math.max(place, 0)).findLast((other) => other.summary !== null);
    const { facts, assessmentId } = entry;
    const summary = entry.summary ?? NOT_ASSESSED;
    const { modulusIntervalPa: _, fixityInterval: __, ...shown } = summary;
    const ruling = entry.rulings.find(({ withdrawn }) => withdrawn === null) ?? null;
    const rank = place < 0 ? 'corrected' : place === standing.length - 1 ? 'latest' : 'earlier';
    const row: RegisterRow = {
      visitId: facts.visitId,
      poleId: facts.poleId,
      species: facts.species,
      classCode: facts.classCode,
      lengthM: facts.lengthM,
      date: facts.date,
      assessmentId,
      ...shown,
      ruling,
      standing: rank,
      need: rankNeed({
        summary,
        assessmentId,
        standing: rank,
        ruling,
        previous: before ? { date: before.facts.date, summary: before.summary! } : null,
      }),
    };
    return { row, text: textOfRow(row) };
  });
}

/** A file brought in later that shares a recording, byte for byte, tells of the same visit to the pole. */
function corrects(later: Entry, earlier: Entry): boolean {
  return (
    later.facts.visitId > earlier.facts.visitId &&
    later.facts.recordings.some((sha256) => earlier.facts.recordings.includes(sha256))
  );
}
