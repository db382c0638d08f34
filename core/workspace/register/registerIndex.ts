import { setImmediate } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import { StoreError } from '../../errors.ts';
import type { RegisterRow } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { unknownVisit } from '../visits.repository.ts';
import { buildRows, type VisitEntry } from './buildRows.ts';
import { type Growth, NOTHING_SEEN, readGrowth } from './readGrowth.ts';
import { textOfRow } from './textOfRow.ts';

export type Register = {
  /** By pole, date and identity. */
  readonly rows: readonly RegisterRow[];
  /** The words of each row that a search goes through. */
  readonly texts: readonly string[];
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

type PoleEntry = { visits: VisitEntry[]; rows: readonly RegisterRow[]; texts: readonly string[] };

const byName = new Intl.Collator('en', { numeric: true });

/**
 * The register of a workspace in memory. Evidence, results and rulings are only ever added, so each reading takes in
 * what is new and rebuilds the rows of the poles that it touches: the first reading of 100,000 visits takes seconds,
 * in parts between which other calls are answered, each later one milliseconds.
 */
export function createRegisterIndex(db: Kysely<Tables>): RegisterIndex {
  const visits = new Map<number, VisitEntry>();
  const poles = new Map<string, PoleEntry>();
  /** Names of the poles in order. */
  let order: string[] = [];
  let seen = NOTHING_SEEN;
  let register: Register = { rows: [], texts: [], poles: 0, revision: 0 };
  let reading: Promise<Register> | null = null;

  function takeIn({ visits: added, results, rulings }: Growth): string[] {
    for (const facts of added) {
      const entry: VisitEntry = { facts, assessmentId: null, summary: null, rulings: [] };
      visits.set(facts.visitId, entry);
      const pole = poles.get(facts.poleId);
      if (pole) pole.visits.push(entry);
      else poles.set(facts.poleId, { visits: [entry], rows: [], texts: [] });
    }
    for (const { visitId, assessmentId, summary } of results) {
      Object.assign(entryOf(visitId), { assessmentId, summary });
    }
    for (const { visitId, ruling } of rulings) {
      const entry = entryOf(visitId);
      const others = entry.rulings.filter((known) => known.rulingId !== ruling.rulingId);
      entry.rulings = [...others, ruling].sort((a, b) => b.rulingId - a.rulingId);
    }
    return [
      ...added.map(({ poleId }) => poleId),
      ...[...results, ...rulings].map(({ visitId }) => visits.get(visitId)!.facts.poleId),
    ];
  }

  /** @throws StoreError where somebody has a result or a ruling belong to a visit that is not there */
  function entryOf(visitId: number): VisitEntry {
    const entry = visits.get(visitId);
    if (entry) return entry;
    throw new StoreError(
      'store.damaged',
      `The workspace holds a result or a ruling of visit ${visitId}, which is not there.`,
      'Look into the file with: npm run -s stemroot -- care prove <workspace>, and restore it from a backup.',
    );
  }

  async function refresh(): Promise<Register> {
    const touched = new Set<string>();
    for (;;) {
      const growth = await readGrowth(db, seen);
      const names = takeIn(growth);
      seen = growth.seen;
      if (names.length === 0) break;
      for (const name of names) touched.add(name);
      await setImmediate();
    }
    if (touched.size === 0) return register;
    for (const name of touched) {
      const pole = poles.get(name)!;
      pole.rows = buildRows(pole.visits);
      pole.texts = pole.rows.map(textOfRow);
    }
    if (order.length < poles.size) order = [...poles.keys()].sort(byName.compare);
    const inOrder = order.map((name) => poles.get(name)!);
    register = {
      rows: inOrder.flatMap((pole) => pole.rows),
      texts: inOrder.flatMap((pole) => pole.texts),
      poles: poles.size,
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
      const entry = visits.get(visitId);
      const row = entry && poles.get(entry.facts.poleId)!.rows.find((own) => own.visitId === visitId);
      if (!row) throw unknownVisit(visitId);
      return row;
    },
  };
}
