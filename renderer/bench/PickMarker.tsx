import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { PlaneMark } from '../parts/index.ts';
import { type Frame, pixelOf, valueAt } from '../plots/index.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { MODE_NUMBERS, type PickRow } from './pickRows.ts';
import type { PickCommands } from './usePicks.ts';

const BINS_WITH_SHIFT = 10;
/** Less than this is an unsteady click, no drag. */
const SMALLEST_DRAG_PX = 3;
const HEAD_PX = 24;

type PickMarkerProps = {
  row: PickRow;
  frame: Frame;
  top: number;
  height: number;
  binHz: number;
  commands: PickCommands;
};

let drags = 0;

/**
 * A pick over the spectrum: a line at its frequency with the mark of its plane and number. Dragged by pointer,
 * moved by arrow keys, confirmed by Enter, refused by Delete, renumbered by a digit.
 */
export function PickMarker({ row, frame, top, height, binHz, commands }: PickMarkerProps) {
  const drag = useRef<{ fromPx: number; leftPx: number; key: string; moved: boolean } | null>(null);
  const frequencyHz = row.frequencyHz ?? 0;

  function press(event: KeyboardEvent): void {
    const step = binHz * (event.shiftKey ? BINS_WITH_SHIFT : 1);
    const digit = MODE_NUMBERS.find((number) => event.key === String(number));
    if (event.key === 'ArrowRight' || event.key === 'ArrowUp') commands.place(row, frequencyHz + step);
    else if (event.key === 'ArrowLeft' || event.key === 'ArrowDown') commands.place(row, frequencyHz - step);
    else if (event.key === 'Enter' || event.key === ' ') commands.confirm(row);
    else if (event.key === 'Delete' || event.key === 'Backspace') commands.refuse(row);
    else if (digit && !event.ctrlKey && !event.metaKey) commands.renumber(row, digit);
    else return;
    event.preventDefault();
  }

  function grab(event: PointerEvent<HTMLDivElement>): void {
    event.currentTarget.setPointerCapture(event.pointerId);
    drags += 1;
    // read once: at each step it would have the whole page laid out in between
    const leftPx = event.currentTarget.offsetParent!.getBoundingClientRect().left;
    drag.current = { fromPx: event.clientX, leftPx, key: `drag-${drags}`, moved: false };
  }

  function pull(event: PointerEvent<HTMLDivElement>): void {
    const { current } = drag;
    if (!current) return;
    if (!current.moved && Math.abs(event.clientX - current.fromPx) < SMALLEST_DRAG_PX) return;
    current.moved = true;
    const px = Math.min(Math.max(event.clientX - current.leftPx, frame.startPx), frame.endPx);
    commands.place(row, valueAt(frame, px), current.key);
  }

  return (
    <div
      className={`pick-marker is-${row.state}`}
      style={{
        left: pixelOf(frame, frequencyHz) - HEAD_PX / 2,
        top,
        height,
        color: `var(--plane-${row.plane % 4})`,
      }}
      role="slider"
      tabIndex={0}
      aria-label={`Mode ${row.number} of ${namePlane(row.plane, row.azimuthDeg)}`}
      aria-valuenow={Number(frequencyHz.toFixed(3))}
      aria-valuemin={frame.range[0]}
      aria-valuemax={frame.range[1]}
      aria-valuetext={`${formatSignificant(frequencyHz, 4)} Hz, ${row.state}`}
      title={`Mode ${row.number}, ${namePlane(row.plane, row.azimuthDeg)}: ${formatSignificant(frequencyHz, 4)} Hz, ${row.state}`}
      onKeyDown={press}
      onPointerDown={grab}
      onPointerMove={pull}
      onPointerUp={() => {
        drag.current = null;
      }}
      onPointerCancel={() => {
        drag.current = null;
      }}
    >
      <PlaneMark plane={row.plane} number={row.number} hollow={row.state === 'proposed'} size={20} />
    </div>
  );
}
