import { useMediaQuery } from '@mantine/hooks';
import { IconChevronDown, IconChevronUp } from '@tabler/icons-react';
import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useId, useRef } from 'react';
import { readAhead, useRegister, useWindow } from '../state/index.ts';
import type { RegisterQuery, RegisterRow } from '../types.ts';
import { COLUMNS, type Column } from './columns.tsx';
import type { RegisterRows } from './useRegisterRows.ts';

/** As in register.css: every row has this height, so that places follow from it. */
const ROW_PX = 30;
const OVERSCAN = 6;
const POLE_PARTS = 9;
const CHOICE_PARTS = 3;
/** As in window.css. */
const WIDE = '(min-width: 1700px)';

type RegisterTableProps = { rows: RegisterRows; matching: number };

/**
 * The table of visits, of which only the rows in sight exist. It takes the keyboard as a whole: arrows walk, Enter opens, the space
 * bar chooses.
 */
export function RegisterTable({ rows, matching }: RegisterTableProps) {
  const openVisit = useWindow((s) => s.openVisit);
  const { query, current, selected, sortBy, walkTo, select } = useRegister();
  const wide = useMediaQuery(WIDE, undefined, { getInitialValueInEffect: false });
  const scrollRef = useRef<HTMLDivElement>(null);
  const id = useId();
  const columns = COLUMNS.filter((column) => wide || !column.wide);
  const virtualizer = useVirtualizer({
    count: matching,
    getScrollElement: () => scrollRef.current,
    estimateSize: () => ROW_PX,
    overscan: OVERSCAN,
    scrollPaddingStart: ROW_PX * 2,
  });
  const items = virtualizer.getVirtualItems();
  const [first, last] = [items[0]?.index ?? 0, items.at(-1)?.index ?? 0];
  const { want } = rows;
  useEffect(() => want(first, last), [want, first, last]);
  const place = Math.min(current?.place ?? 0, matching - 1);

  // back from the bench, the row that was left is in sight
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the table comes into sight.
  useEffect(() => {
    if (current !== null) virtualizer.scrollToIndex(place, { align: 'center' });
  }, []);

  // the table takes the keyboard where nothing else has it: when it comes into sight, and when what was chosen is done with
  const isChosen = selected.size > 0;
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is about the moment of that change.
  useEffect(() => {
    if (document.activeElement === document.body) scrollRef.current?.focus({ preventScroll: true });
  }, [isChosen]);

  const asked = JSON.stringify(query);
  const askedRef = useRef(asked);
  useEffect(() => {
    if (askedRef.current === asked) return;
    askedRef.current = asked;
    virtualizer.scrollToOffset(0);
  }, [asked, virtualizer]);

  function walk(to: number): void {
    const next = Math.min(Math.max(to, 0), matching - 1);
    walkTo({ place: next, visitId: rows.rowAt(next)?.visitId ?? 0 });
    virtualizer.scrollToIndex(next);
    readAhead(rows.rowAt(next)?.visitId);
  }

  function toggle(row: RegisterRow | undefined): void {
    if (row) select([row], !selected.has(row.visitId));
  }

  function open(index: number, { visitId }: RegisterRow): void {
    walkTo({ place: index, visitId });
    openVisit(visitId);
  }

  function press(event: KeyboardEvent): void {
    const page = Math.max(Math.floor((scrollRef.current?.clientHeight ?? 0) / ROW_PX) - 2, 1);
    const steps: Record<string, number> = {
      ArrowDown: place + 1,
      ArrowUp: place - 1,
      PageDown: place + page,
      PageUp: place - page,
      Home: 0,
      End: matching - 1,
    };
    const row = rows.rowAt(place);
    const next = steps[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target instanceof HTMLElement && event.target.closest('thead')) return;
    if (next !== undefined) {
      if (event.shiftKey && row) select([row], true);
      walk(next);
      const reached = rows.rowAt(Math.min(Math.max(next, 0), matching - 1));
      if (event.shiftKey && reached) select([reached], true);
    } else if (event.key === 'Enter' && row) openVisit(row.visitId);
    else if (event.key === ' ') toggle(row);
    else return;
    event.preventDefault();
  }

  return (
    // biome-ignore lint/a11y/useSemanticElements: no element of HTML scrolls a table with its head in place.
    <div
      className="register-scroll"
      ref={scrollRef}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the table takes its keys here, where the scrolling is.
      tabIndex={0}
      role="group"
      aria-label="Visits: arrows walk, Enter opens, space chooses"
      aria-activedescendant={items.some((item) => item.index === place) ? `${id}-${place}` : undefined}
      onKeyDown={press}
    >
      <table className="register-table" aria-rowcount={matching + 1}>
        <colgroup>
          {[CHOICE_PARTS, POLE_PARTS, ...columns.map((column) => column.parts)].map((parts, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: columns have a fixed order.
            <col key={i} style={{ width: `${(100 * parts) / totalParts(columns)}%` }} />
          ))}
        </colgroup>
        <thead>
          <tr aria-rowindex={1}>
            <th scope="col">
              <span className="visually-hidden">Chosen</span>
            </th>
            <HeadCell column={POLE} sort={query.sort} sortBy={sortBy} />
            {columns.map((column) => (
              <HeadCell
                key={`${column.title} ${column.key}`}
                column={column}
                sort={query.sort}
                sortBy={sortBy}
              />
            ))}
          </tr>
        </thead>
        <tbody>
          <Spacer height={items[0]?.start ?? 0} columns={columns.length} />
          {items.map(({ index }) => {
            const row = rows.rowAt(index);
            return (
              <tr
                key={index}
                id={`${id}-${index}`}
                aria-rowindex={index + 2}
                className={index === place ? 'is-current' : undefined}
                onClick={() => row && open(index, row)}
                onPointerEnter={() => readAhead(row?.visitId)}
              >
                {row ? (
                  <Cells
                    row={row}
                    columns={columns}
                    isSelected={selected.has(row.visitId)}
                    onToggle={() => {
                      walkTo({ place: index, visitId: row.visitId });
                      toggle(row);
                    }}
                    onOpen={() => open(index, row)}
                  />
                ) : (
                  <td colSpan={columns.length + 2} className="quiet">
                    reading
                  </td>
                )}
              </tr>
            );
          })}
          <Spacer height={virtualizer.getTotalSize() - (items.at(-1)?.end ?? 0)} columns={columns.length} />
        </tbody>
      </table>
    </div>
  );
}

const POLE: Column = { key: 'pole', title: 'Pole', parts: POLE_PARTS, cell: (row) => row.poleId };

function totalParts(columns: readonly Column[]): number {
  return columns.reduce((sum, { parts }) => sum + parts, CHOICE_PARTS + POLE_PARTS);
}

/** Stands for the rows that are out of sight. */
function Spacer({ height, columns }: { height: number; columns: number }) {
  if (height <= 0) return null;
  return (
    <tr aria-hidden className="spacer">
      <td colSpan={columns + 2} style={{ height }} />
    </tr>
  );
}

function Cells(props: {
  row: RegisterRow;
  columns: readonly Column[];
  isSelected: boolean;
  onToggle: () => void;
  onOpen: () => void;
}) {
  const { row, columns, isSelected, onToggle, onOpen } = props;
  return (
    <>
      <td className="row-choice">
        <input
          type="checkbox"
          tabIndex={-1}
          aria-label={`Choose ${row.poleId}, ${row.date}`}
          checked={isSelected}
          onClick={(event) => event.stopPropagation()}
          onChange={onToggle}
        />
      </td>
      <th scope="row">
        <button
          type="button"
          className="row-opener"
          tabIndex={-1}
          onClick={(event) => {
            event.stopPropagation();
            onOpen();
          }}
        >
          <strong>{row.poleId}</strong>
        </button>
      </th>
      {columns.map((column) => (
        <td key={`${column.title} ${column.key}`} className={column.number ? 'is-number' : undefined}>
          {column.cell(row)}
        </td>
      ))}
    </>
  );
}

function HeadCell({
  column,
  sort,
  sortBy,
}: {
  column: Column;
  sort: RegisterQuery['sort'];
  sortBy: (key: RegisterQuery['sort']['key']) => void;
}) {
  const { key } = column;
  const label = (
    <span className="head-label" title={column.help}>
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
