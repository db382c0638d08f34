import { formatChance, formatEstimate, formatNumber } from '../core/report/index.ts';
import type { RegisterRow } from '../core/workspace/index.ts';

const GIGA = 1e9;
const KILO = 1e3;
/** The unit stands in the heading. */
const KILO_WITHOUT_SYMBOL = { scale: KILO, symbol: '' };
/** Stands where there is no number. */
const NOTHING = '-';
const GAP = '  ';

type Column = { title: string; align: 'left' | 'right'; cell: (row: RegisterRow) => string };

const COLUMNS: readonly Column[] = [
  { title: 'Pole', align: 'left', cell: (row) => row.poleId },
  { title: 'Date', align: 'left', cell: (row) => row.date },
  { title: 'Verdict', align: 'left', cell: (row) => row.verdict },
  ...[0, 1, 2].map(
    (mode): Column => ({
      title: `f${mode + 1} Hz`,
      align: 'right',
      cell: (row) => row.frequenciesHz[mode]?.toFixed(2) ?? NOTHING,
    }),
  ),
  { title: 'E GPa', align: 'right', cell: (row) => numberIn(row.modulusPa, GIGA) },
  { title: 'Fixity', align: 'right', cell: (row) => numberIn(row.fixity) },
  { title: 'Stem/root', align: 'left', cell: (row) => row.identifiability ?? NOTHING },
  {
    title: 'Capacity if sound, kN m (90 %)',
    align: 'right',
    cell: (row) => (row.capacityNm ? formatEstimate(row.capacityNm, KILO_WITHOUT_SYMBOL) : NOTHING),
  },
  { title: 'Required kN m', align: 'right', cell: (row) => numberIn(row.requirementNm, KILO) },
  { title: 'Falls short', align: 'right', cell: (row) => formatChance(row.chanceBelow, NOTHING) },
  { title: 'Ruling', align: 'left', cell: (row) => row.ruling?.decision ?? NOTHING },
  {
    title: 'Findings',
    align: 'left',
    cell: (row) => row.findings.map((finding) => finding.id).join(', ') || NOTHING,
  },
];

/** Lays the register out as a table of plain text; `Chance below`: that the capacity is below what is required. */
export function formatTable(rows: readonly RegisterRow[]): string {
  const shown = COLUMNS.filter(({ title }) => title !== 'Ruling' || rows.some((row) => row.ruling));
  const cells = [shown.map(({ title }) => title), ...rows.map((row) => shown.map(({ cell }) => cell(row)))];
  const widths = shown.map((_, column) => Math.max(...cells.map((line) => line[column]!.length)));
  const lines = cells.map((line) =>
    line
      .map((text, column) =>
        shown[column]!.align === 'left' ? text.padEnd(widths[column]!) : text.padStart(widths[column]!),
      )
      .join(GAP)
      .trimEnd(),
  );
  return [lines[0]!, widths.map((width) => '-'.repeat(width)).join(GAP), ...lines.slice(1)].join('\n');
}

function numberIn(value: number | null, scale = 1): string {
  return value === null ? NOTHING : formatNumber(value / scale);
}
