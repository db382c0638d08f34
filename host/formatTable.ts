import { formatChance, formatEstimate, formatMedian, formatNumber } from '../core/formatNumbers.ts';
import { nameFinding } from '../core/nameFinding.ts';
import type { RegisterRow } from '../core/workspace/index.ts';

const GIGA = 1e9;
const KILO = 1e3;
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
  { title: 'E GPa', align: 'right', cell: (row) => medianIn(row.modulusIntervalPa, GIGA) },
  { title: 'Fixity', align: 'right', cell: (row) => medianIn(row.fixityInterval) },
  { title: 'Stem/root', align: 'left', cell: (row) => row.identifiability ?? NOTHING },
  {
    title: 'Capacity if sound, kN·m (90 %)',
    align: 'right',
    cell: (row) => (row.capacityNm ? formatEstimate(row.capacityNm, unitInHeading(KILO)) : NOTHING),
  },
  { title: 'Required kN·m', align: 'right', cell: (row) => numberIn(row.requirementNm, KILO) },
  { title: 'Falls short', align: 'right', cell: (row) => formatChance(row.chanceBelow, NOTHING) },
  { title: 'Ruling', align: 'left', cell: (row) => row.ruling?.decision ?? NOTHING },
  {
    title: 'Findings',
    align: 'left',
    cell: (row) => nameFindings(row) || NOTHING,
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

/** Each kind once, however often it was found; of a failed visit why it failed. */
function nameFindings({ verdict, findings }: RegisterRow): string {
  if (verdict === 'failed') return findings.map(({ text }) => text).join(' ');
  return [...new Set(findings.map(({ id }) => nameFinding(id)))].join(', ');
}

function medianIn(estimate: RegisterRow['capacityNm'], scale = 1): string {
  return estimate === null ? NOTHING : formatMedian(estimate, unitInHeading(scale));
}

function unitInHeading(scale: number): { scale: number; symbol: string } {
  return { scale, symbol: '' };
}

function numberIn(value: number | null, scale = 1): string {
  return value === null ? NOTHING : formatNumber(value / scale);
}
