import { type BreakTestRow, breakTestRowSchema } from '../relation/breakTestRow.ts';
import { BREAK_TEST_FIELD_NAMES, type BreakTestField, describeField } from './breakTestFields.ts';
import { type BreakTestMapping, listLacks, locateFields, takeStatedUnits } from './breakTestMapping.ts';
import { type BreakTestRecord, LONGEST_TEXT, readRecord } from './breakTestRecord.ts';
import { nameSpecies } from './nameSpecies.ts';
import { noteSeries } from './noteSeries.ts';
import { proposeColumns } from './proposeColumns.ts';
import { QUANTITIES } from './quantities.ts';
import { guessDecimalMark } from './readNumber.ts';
import { readTable, type Table } from './readTable.ts';
import { type ReducedRecord, reduceRecord } from './reduceRecord.ts';
import { Refusal } from './refusal.ts';
import { type RefusedCell, TABLE_LIMITS } from './tableLimits.ts';

/** How a row came about: what the relation does not need and an engineer wants to see. */
export type BreakTestDetail = Pick<
  ReducedRecord,
  'kind' | 'breakHeightM' | 'groundlineStressPa' | 'greatestStress' | 'remarks'
> & {
  readonly id: string;
  readonly line: number;
  /** Name of the visit before the break, as the table has it; null: free-standing. */
  readonly visit: string | null;
  /** Butt to tip; null where the table does not say. */
  readonly lengthM: number | null;
  /** A person said that it is the pole of the visit, whatever differs. */
  readonly isSamePole: boolean;
};

/** A name of a species that is not known here. */
export type UnknownSpecies = { readonly name: string; readonly tests: number };

export type BreakTests = {
  readonly rows: readonly BreakTestRow[];
  /** One for each row, in the same order. */
  readonly details: readonly BreakTestDetail[];
  /** Rows that were not taken, by line. */
  readonly refused: readonly RefusedCell[];
  /** Names of species that are not known, whatever a person takes them for. */
  readonly unknownSpecies: readonly UnknownSpecies[];
  /** What is odd about the table as a whole, in plain sentences. */
  readonly notes: readonly string[];
};

export type BreakTestProposal = {
  readonly mapping: BreakTestMapping;
  /** Why the table cannot be read with it yet; empty where it can. */
  readonly lacks: readonly string[];
  /** What a column may be set to, with the units that it may then have; no units: text. */
  readonly choices: readonly {
    readonly field: BreakTestField;
    readonly label: string;
    readonly units: readonly string[];
  }[];
  readonly rows: number;
  /** Cells of the first rows, to look at beside the mapping. */
  readonly firstRows: readonly (readonly string[])[];
};

const ROWS_SHOWN = 5;
const NO_FREQUENCY = [null, null, null] as const;

/**
 * Looks at a table of break tests and proposes what its columns hold, in which units and with which decimal mark.
 * @param changed - a mapping that a person has changed: told back with the units that its headers state and what it still lacks. @default the proposed one
 * @throws FormatError of {@link readTable}
 */
export function proposeBreakTests(
  bytes: Uint8Array,
  fileName: string,
  changed?: BreakTestMapping,
): BreakTestProposal {
  const table = readTable(bytes, fileName);
  const mapping = changed ? takeStatedUnits(changed) : proposeMapping(table);
  return {
    mapping,
    lacks: listLacks(mapping),
    choices: BREAK_TEST_FIELD_NAMES.map((field) => {
      const { label, quantity } = describeField(field);
      return {
        field,
        label,
        units: quantity === null ? [] : QUANTITIES[quantity].units.map(({ name }) => name),
      };
    }),
    rows: table.rows.length + table.refused.length,
    firstRows: table.rows.slice(0, ROWS_SHOWN).map(({ cells }) => cells),
  };
}

/**
 * Reads a table of break tests: each row reduced to groundline moment and modulus of rupture. Rows that are wrong are listed with the reason, the
 * others are kept.
 * @param mapping - @default the proposed one
 * @throws FormatError of {@link readTable} and {@link locateFields}
 */
export function readBreakTests(bytes: Uint8Array, fileName: string, mapping?: BreakTestMapping): BreakTests {
  const table = readTable(bytes, fileName);
  const used = mapping ?? proposeMapping(table);
  const columns = locateFields(used, table.header.length, fileName);
  const rows: BreakTestRow[] = [];
  const details: BreakTestDetail[] = [];
  const refused: RefusedCell[] = [...table.refused];
  const lineOfId = new Map<string, number>();
  const unknown = new Map<string, number>();
  let withoutSpecies = 0;
  let withoutArmLoss = 0;
  for (const tableRow of table.rows) {
    const record = readRecord(tableRow, columns, used.decimalMark);
    if (!('figures' in record)) {
      refused.push(...record);
      continue;
    }
    try {
      const names = nameRecord(record, lineOfId);
      const reduced = reduceRecord(record);
      const row = breakTestRowSchema.parse(makeRow(record, reduced, names, used));
      lineOfId.set(names.id, record.line);
      rows.push(row);
      const species = record.texts.get('species');
      if (species === undefined) withoutSpecies++;
      else if (isUnknown(species)) unknown.set(species, (unknown.get(species) ?? 0) + 1);
      if (reduced.kind === 'cantilever' && !record.figures.has('armLossM')) withoutArmLoss++;
      details.push(makeDetail(record, reduced, names.id, used));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const column = columns.get(error.field);
      refused.push({
        line: record.line,
        column: column?.header ?? null,
        value: (column ? (tableRow.cells[column.index] ?? '') : tableRow.cells.join(' ')).slice(
          0,
          TABLE_LIMITS.shownCharacters,
        ),
        reason: error.message,
        hint: error.hint,
      });
    }
  }
  refused.sort((a, b) => a.line - b.line);
  return {
    rows,
    details,
    refused,
    unknownSpecies: [...unknown].map(([name, tests]) => ({ name, tests })),
    notes: noteSeries(rows, { withoutSpecies, withoutArmLoss }),
  };
}

function proposeMapping({ header, rows }: Table): BreakTestMapping {
  return {
    decimalMark: guessDecimalMark(rows.flatMap(({ cells }) => cells)),
    columns: proposeColumns(header),
  };
}

/** Names of test and pole: a test without one is known by its pole and visit, a pole without one by its test. */
function nameRecord(
  { texts, line }: BreakTestRecord,
  lineOfId: ReadonlyMap<string, number>,
): { id: string; poleId: string } {
  const poleId = texts.get('poleId');
  const visit = texts.get('visit');
  const testId = texts.get('testId');
  const id = testId ?? [poleId, visit].filter((part) => part !== undefined).join(' ');
  const used = id === '' ? nameByLine(line) : id;
  if (used.length > LONGEST_TEXT) {
    throw new Refusal(
      'visit',
      `and pole are more than ${LONGEST_TEXT} characters together`,
      'Give every test a short name in a column "test".',
    );
  }
  const earlier = lineOfId.get(used);
  if (earlier !== undefined) {
    throw new Refusal(
      testId === undefined ? 'poleId' : 'testId',
      `stands in line ${earlier} too`,
      'Take one of the two out, or give every test a name of its own in a column "test".',
    );
  }
  return { id: used, poleId: poleId ?? used };
}

/** Name of a test that its table gives none. */
export function nameByLine(line: number): string {
  return `line ${line}`;
}

function makeRow(
  { figures, texts }: BreakTestRecord,
  reduced: ReducedRecord,
  names: { id: string; poleId: string },
  mapping: BreakTestMapping,
): BreakTestRow {
  const of = (field: BreakTestField) => figures.get(field) ?? null;
  const frequenciesHz = NO_FREQUENCY.map((_, i) => of(`frequency${i + 1}Hz` as BreakTestField));
  checkAscending(frequenciesHz);
  const errorPercent = of('modulusErrorPercent');
  return {
    ...names,
    species: readSpecies(texts.get('species') ?? '', mapping),
    treatment: texts.get('treatment') ?? null,
    modulusPa: of('modulusPa'),
    modulusLogSd: errorPercent === null ? null : errorPercent / 100,
    densityKgPerM3: of('densityKgPerM3'),
    frequenciesHz,
    stemLengthM: reduced.stemLengthM,
    circumferenceM: reduced.circumferenceM,
    fixity: of('fixity'),
    ageYears: of('ageYears'),
    moisturePercent: of('moisturePercent'),
    weight: of('precision'),
    piece: reduced.piece,
    modulusOfRupturePa: reduced.modulusOfRupturePa,
    groundlineMomentNm: reduced.groundlineMomentNm,
  };
}

function isUnknown(name: string): boolean {
  return nameSpecies(name) === 'other' && !/^other$/i.test(name);
}

function readSpecies(name: string, { species = {} }: BreakTestMapping): BreakTestRow['species'] {
  return isUnknown(name) && Object.hasOwn(species, name) ? species[name]! : nameSpecies(name);
}

function makeDetail(
  { line, texts, figures }: BreakTestRecord,
  reduced: ReducedRecord,
  id: string,
  mapping: BreakTestMapping,
): BreakTestDetail {
  const { kind, breakHeightM, groundlineStressPa, greatestStress } = reduced;
  const species = texts.get('species');
  const remarks =
    species !== undefined && isUnknown(species)
      ? [
          ...reduced.remarks,
          `Species "${species}" is not known here: it counts as ${readSpecies(species, mapping).replaceAll('-', ' ')}.`,
        ]
      : reduced.remarks;
  return {
    id,
    line,
    visit: texts.get('visit') ?? null,
    lengthM: figures.get('lengthM') ?? null,
    isSamePole: mapping.samePole?.includes(id) ?? false,
    kind,
    breakHeightM,
    groundlineStressPa,
    greatestStress,
    remarks,
  };
}

function checkAscending(frequenciesHz: readonly (number | null)[]): void {
  const known = frequenciesHz.flatMap((value, i) => (value === null ? [] : [{ value, i }]));
  const fault = known.find(({ value }, k) => k > 0 && value <= known[k - 1]!.value);
  if (fault === undefined) return;
  throw new Refusal(
    `frequency${fault.i + 1}Hz` as BreakTestField,
    'is not above that of the mode before it',
    'Check which mode is which.',
  );
}
