import { type KeyboardEvent, type PointerEvent, useId, useRef, useState } from 'react';
import { pixelOf } from '../../plots/index.ts';
import { useCalibration } from '../useCalibration.ts';
import {
  type Box,
  type LinkedPoint,
  nearestPoint,
  type PlotFrames,
  testsInBox,
  toggleTests,
} from './pointPlaces.ts';

const REACH_PX = 14;
/** Less than this is an unsteady click, no box. */
const SMALLEST_BOX_PX = 5;

type PointFieldProps = {
  /** What a screen reader calls the list of points. */
  label: string;
  points: readonly LinkedPoint[];
  frames: PlotFrames;
  width: number;
};

/**
 * The points of a linked picture. A click chooses one, a drag all in a box, with Shift more; by keyboard the arrows walk
 * from point to point to the right and left, Space chooses, Escape lets go of all. What is chosen is chosen in every picture.
 */
export function PointField({ label, points, frames, width }: PointFieldProps) {
  const id = useId();
  const { chosen, choose, point, pointedIn, pointAt } = useCalibration();
  const [box, setBox] = useState<Box | null>(null);
  const start = useRef<{ x: number; y: number } | null>(null);
  const order = points.map((_, index) => index).sort((a, b) => points[a]!.x - points[b]!.x);
  const active = points.findIndex(({ testId }) => testId === point);

  function placeOf(event: PointerEvent<HTMLElement>): { x: number; y: number } {
    const corner = event.currentTarget.getBoundingClientRect();
    return {
      x: event.clientX - corner.left + frames.x.startPx,
      y: event.clientY - corner.top + frames.y.endPx,
    };
  }

  function press(event: PointerEvent<HTMLElement>): void {
    event.currentTarget.setPointerCapture(event.pointerId);
    start.current = placeOf(event);
  }

  function move(event: PointerEvent<HTMLElement>): void {
    const at = placeOf(event);
    if (!start.current) {
      const nearest = nearestPoint(points, frames, at, REACH_PX);
      pointAt(nearest === null ? null : points[nearest]!.testId, label);
      return;
    }
    const { x, y } = start.current;
    if (Math.hypot(at.x - x, at.y - y) < SMALLEST_BOX_PX) return;
    setBox({
      left: Math.min(x, at.x),
      right: Math.max(x, at.x),
      top: Math.min(y, at.y),
      bottom: Math.max(y, at.y),
    });
  }

  function release(event: PointerEvent<HTMLElement>): void {
    if (!start.current) return;
    start.current = null;
    const nearest = nearestPoint(points, frames, placeOf(event), REACH_PX);
    const tests = box ? testsInBox(points, frames, box) : nearest === null ? [] : [points[nearest]!.testId];
    setBox(null);
    if (event.shiftKey || event.ctrlKey || event.metaKey) choose(toggleTests(chosen, tests));
    else choose(tests);
  }

  function walk(event: KeyboardEvent): void {
    const last = order.length - 1;
    const at = order.indexOf(active);
    const steps: Record<string, number> = {
      ArrowRight: Math.min(at + 1, last),
      ArrowUp: Math.min(at + 1, last),
      ArrowLeft: Math.max(at - 1, 0),
      ArrowDown: Math.max(at - 1, 0),
      Home: 0,
      End: last,
    };
    const next = steps[event.key];
    if (next !== undefined) {
      const { testId } = points[order[next]!]!;
      pointAt(testId, label);
      if (event.shiftKey && !chosen.includes(testId)) choose([...chosen, testId]);
    } else if (event.key === ' ' || event.key === 'Enter') {
      if (active >= 0) choose(toggleTests(chosen, [points[active]!.testId]));
    } else if (event.key === 'Escape') choose([]);
    else return;
    event.preventDefault();
  }

  const shown = points[active];
  return (
    <>
      <div
        className="point-field"
        role="listbox"
        aria-multiselectable
        tabIndex={0}
        aria-label={label}
        aria-activedescendant={shown ? `${id}-point` : undefined}
        style={{
          left: frames.x.startPx,
          top: frames.y.endPx,
          width: frames.x.endPx - frames.x.startPx,
          height: frames.y.startPx - frames.y.endPx,
        }}
        onPointerDown={press}
        onPointerMove={move}
        onPointerUp={release}
        onPointerCancel={() => {
          start.current = null;
          setBox(null);
        }}
        onPointerLeave={() => !start.current && pointAt(null)}
        onFocus={(event) => {
          const first = order[0];
          if (point === null && first !== undefined && event.currentTarget.matches(':focus-visible'))
            pointAt(points[first]!.testId, label);
        }}
        onKeyDown={walk}
      >
        {shown && (
          // biome-ignore lint/a11y/useFocusableInteractive: the list keeps the focus and names its active option.
          <div
            id={`${id}-point`}
            role="option"
            className="visually-hidden"
            aria-selected={chosen.includes(shown.testId)}
            aria-posinset={order.indexOf(active) + 1}
            aria-setsize={points.length}
          >
            {shown.words}
          </div>
        )}
      </div>
      {box && (
        <div
          className="choice-box"
          style={{ left: box.left, top: box.top, width: box.right - box.left, height: box.bottom - box.top }}
        />
      )}
      {shown && <PointMark point={shown} frames={frames} width={width} hasWords={pointedIn === label} />}
    </>
  );
}

type PointMarkProps = { point: LinkedPoint; frames: PlotFrames; width: number; hasWords: boolean };

/** A ring round the point that is pointed at, in every picture; its words only where the pointer or the keyboard is. */
function PointMark({ point, frames, width, hasWords }: PointMarkProps) {
  const left = pixelOf(frames.x, point.x);
  const top = pixelOf(frames.y, point.y);
  const isRight = left > width / 2;
  const GAP_PX = 12;
  return (
    <>
      <div className="point-ring" style={{ left, top }} />
      {hasWords && (
        <div
          className="point-words"
          aria-hidden
          style={{ top, ...(isRight ? { right: width - left + GAP_PX } : { left: left + GAP_PX }) }}
        >
          {point.words}
        </div>
      )}
    </>
  );
}
