import { IconChevronDown, IconChevronUp } from '@tabler/icons-react';
import { type KeyboardEvent, type ReactNode, type RefObject, useEffect, useRef } from 'react';
import { useWindow } from '../state/index.ts';
import type { SortKey } from '../state/store.ts';
import { describeSpecies, formatChance, formatEstimate, formatSignificant } from '../words/index.ts';
import type { ArrangedRow } from './arrangeRows.ts';
import { MarginScale, MarginStrip } from './MarginStrip.tsx';

const NM_PER_KNM = 1e3;
const PA_PER_GPA = 1e9;
const ROWS_A_PAGE = 15;

type Column = {
  key: SortKey | null;
  title: string;
  unit?: string;
  head?: ReactNode;
  number?: boolean;
  cell: (row: ArrangedRow) => ReactNode;
};

const NOTHING = (
  <span className="quiet">
    <span aria-hidden>–</span>
    <span className="visually-hidden">none</span>
  </span>
);

const figure = (value: number | null | undefined, per = 1) =>
  value === null || value === undefined ? NOTHING : formatSignificant(value / per);

const COLUMNS: readonly Column[] = [
  {
    key: 'pole',
    title: 'Pole',
    cell: (row) => (
      <>
        <strong>{row.poleId}</strong>{' '}
        <span className="quiet pole-facts">
          {describeSpecies(row.species)}
          {row.classCode && `, class ${row.classCode}`}, {formatSignificant(row.lengthM)} m
        </span>
      </>
    ),
  },
  { key: 'date', title: 'Visit', cell: (row) => row.date },
  { key: 'need', title: 'Look because', cell: (row) => row.need.because },
  { key: 'verdict', title: 'Verdict', cell: (row) => row.verdict },
  { key: 'f1', title: 'f1', unit: 'Hz', number: true, cell: (row) => figure(row.frequenciesHz[0]) },
  { key: 'f2', title: 'f2', unit: 'Hz', number: true, cell: (row) => figure(row.frequenciesHz[1]) },
  { key: 'f3', title: 'f3', unit: 'Hz', number: true, cell: (row) => figure(row.frequenciesHz[2]) },
  { key: 'modulus', title: 'E', unit: 'GPa', number: true, cell: (row) => figure(row.modulusPa, PA_PER_GPA) },
  { key: 'fixity', title: 'Fixity', number: true, cell: (row) => figure(row.fixity) },
  {
    key: 'capacity',
    title: 'Capacity if sound',
    unit: 'kN·m',
    number: true,
    cell: (row) => (row.capacityNm ? formatEstimate(row.capacityNm, '', NM_PER_KNM) : figure(null)),
  },
  {
    key: 'requirement',
    title: 'Required',
    unit: 'kN·m',
    number: true,
    cell: (row) => figure(row.requirementNm, NM_PER_KNM),
  },
  {
    key: null,
    title: 'Capacity as a multiple of required',
    head: <MarginScale />,
    cell: (row) => <MarginStrip row={row} />,
  },
  {
    key: 'chance',
    title: 'Chance below',
    number: true,
    cell: (row) => (row.chanceBelow === null ? figure(null) : formatChance(row.chanceBelow)),
  },
  {
    key: null,
    title: 'Findings',
    cell: (row) => (
      <span className="clip" title={row.findings.map((f) => f.text).join('\n')}>
        {row.findings.map((f) => f.id.replaceAll('-', ' ')).join(', ')}
      </span>
    ),
  },
  {
    key: 'ruling',
    title: 'Ruling',
    cell: (row) => row.ruling?.decision ?? NOTHING,
  },
];

/** The table of visits. One row takes the keyboard at a time; arrows walk, Enter opens. */
export function RegisterTable({ rows }: { rows: readonly ArrangedRow[] }) {
  const { sort, sortBy, openVisit, rowVisitId, walkTo } = useWindow();
  const bodyRef = useRef<HTMLTableSectionElement>(null);
  const active = Math.max(
    rows.findIndex((row) => row.visitId === rowVisitId),
    0,
  );
  useReturn(bodyRef);

  function walk(event: KeyboardEvent, index: number): void {
    const last = rows.length - 1;
    const target: Record<string, number> = {
      ArrowDown: index + 1,
      ArrowUp: index - 1,
      PageDown: index + ROWS_A_PAGE,
      PageUp: index - ROWS_A_PAGE,
      Home: 0,
      End: last,
    };
    const next = target[event.key];
    if (next === undefined) return;
    event.preventDefault();
    const clamped = Math.min(Math.max(next, 0), last);
    walkTo(rows[clamped]!.visitId);
    const row = bodyRef.current?.rows[clamped];
    row?.querySelector('button')?.focus();
    row?.scrollIntoView({ block: 'nearest' });
  }

  return (
    <div className="register-scroll">
      <table className="register-table">
        <thead>
          <tr>
            {COLUMNS.map((column) => (
              <HeadCell key={column.title} column={column} sort={sort} sortBy={sortBy} />
            ))}
          </tr>
        </thead>
        <tbody ref={bodyRef}>
          {rows.map((row, index) => (
            <tr
              key={row.visitId}
              className={index === active ? 'is-current' : undefined}
              onClick={() => openVisit(row.visitId)}
            >
              {COLUMNS.map((column, i) =>
                i === 0 ? (
                  <th key={column.title} scope="row">
                    <button
                      type="button"
                      className="row-opener"
                      tabIndex={index === active ? 0 : -1}
                      onFocus={() => walkTo(row.visitId)}
                      onKeyDown={(event) => walk(event, index)}
                    >
                      {column.cell(row)}
                    </button>
                  </th>
                ) : (
                  <td key={column.title} className={column.number ? 'is-number' : undefined}>
                    {column.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Back from the bench, the row that was left is in sight and takes the keyboard, unless something else has it. */
function useReturn(bodyRef: RefObject<HTMLTableSectionElement | null>): void {
  useEffect(() => {
    if (useWindow.getState().rowVisitId === null) return;
    const row = bodyRef.current?.querySelector('.is-current');
    row?.scrollIntoView({ block: 'nearest' });
    if (document.activeElement === document.body)
      row?.querySelector('button')?.focus({ preventScroll: true });
  }, [bodyRef]);
}

function HeadCell({
  column,
  sort,
  sortBy,
}: {
  column: Column;
  sort: { key: SortKey; descending: boolean };
  sortBy: (key: SortKey) => void;
}) {
  const { key } = column;
  const label = (
    <span className="head-label">
      {column.title}
      {column.unit && <span className="quiet head-unit">{column.unit}</span>}
    </span>
  );
  if (key === null) {
    return (
      <th scope="col">
        {column.head ? (
          <>
            <span className="visually-hidden">{column.title}</span>
            {column.head}
          </>
        ) : (
          label
        )}
      </th>
    );
  }
  const sorted = sort.key === key;
  const Chevron = sort.descending ? IconChevronDown : IconChevronUp;
  return (
    <th
      scope="col"
      className={column.number ? 'is-number' : undefined}
      aria-sort={sorted ? (sort.descending ? 'descending' : 'ascending') : undefined}
    >
      <button type="button" className="head-sorter" onClick={() => sortBy(key)}>
        {label}
        {sorted && <Chevron size={13} aria-hidden />}
      </button>
    </th>
  );
}
