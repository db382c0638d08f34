import type { KeyboardEvent } from 'react';
import { PlaneMark } from '../parts/index.ts';
import { type Frame, pixelOf, useDrag, valueAt } from '../plots/index.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { MODE_NUMBERS, type PickRow } from './pickRows.ts';
import type { PickCommands } from './usePicks.ts';

const BINS_WITH_SHIFT = 10;
const HEAD_PX = 24;

type PickMarkerProps = {
  row: PickRow;
  frame: Frame;
  top: number;
  height: number;
  binHz: number;
  commands: PickCommands;
};

/**
 * A pick over the spectrum: a line at its frequency with the mark of its plane and number. Dragged by pointer,
 * moved by arrow keys, confirmed by Enter, refused by Delete, renumbered by a digit.
 */
export function PickMarker({ row, frame, top, height, binHz, commands }: PickMarkerProps) {
  const frequencyHz = row.frequencyHz ?? 0;
  const drag = useDrag(({ x }, key) => {
    const px = Math.min(Math.max(x, frame.startPx), frame.endPx);
    commands.place(row, valueAt(frame, px), key);
  }, 'x');

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
      {...drag}
    >
      <PlaneMark plane={row.plane} number={row.number} hollow={row.state === 'proposed'} size={20} />
    </div>
  );
}
