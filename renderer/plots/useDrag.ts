import { type PointerEvent, useEffect, useRef } from 'react';

/** Less than this is an unsteady click, no drag. */
const SMALLEST_DRAG_PX = 3;

type Point = { x: number; y: number };

type Drag = {
  key: string;
  from: Point;
  /** From the middle of the handle to where it was grabbed. */
  grip: Point;
  /** Of the picture, where it is known; reading it at each step would have the whole page laid out in between. */
  corner: Point | null;
  moved: boolean;
  stop(): void;
};

let drags = 0;

/**
 * Has a handle that lies over a picture dragged by pointer.
 * @param onPull - told where the middle of the handle is pulled to, in px from the picture's corner, and a key that all moves of one
 * drag share
 * @param along - where it moves: a hand that moves across has not moved it
 * @returns listeners of the handle
 */
export function useDrag(onPull: (to: Point, key: string) => void, along: 'x' | 'both') {
  const drag = useRef<Drag | null>(null);
  const release = () => {
    drag.current?.stop();
    drag.current = null;
  };
  // a handle may go while it is held
  useEffect(() => () => drag.current?.stop(), []);
  return {
    onPointerDown({ currentTarget, pointerId, clientX, clientY }: PointerEvent<HTMLElement>) {
      release();
      currentTarget.setPointerCapture(pointerId);
      drags += 1;
      const { left, top, width, height } = currentTarget.getBoundingClientRect();
      const forget = () => {
        if (drag.current) drag.current.corner = null;
      };
      window.addEventListener('scroll', forget, { capture: true });
      drag.current = {
        key: `drag-${drags}`,
        from: { x: clientX, y: clientY },
        grip: { x: clientX - left - width / 2, y: clientY - top - height / 2 },
        corner: null,
        moved: false,
        stop: () => window.removeEventListener('scroll', forget, { capture: true }),
      };
    },
    onPointerMove({ currentTarget, clientX, clientY }: PointerEvent<HTMLElement>) {
      const { current } = drag;
      if (!current) return;
      const { from, grip } = current;
      const across = along === 'x' ? 0 : clientY - from.y;
      current.moved ||= Math.hypot(clientX - from.x, across) >= SMALLEST_DRAG_PX;
      if (!current.moved) return;
      current.corner ??= currentTarget.offsetParent!.getBoundingClientRect();
      const { x, y } = current.corner;
      onPull({ x: clientX - grip.x - x, y: clientY - grip.y - y }, current.key);
    },
    onPointerUp: release,
    onPointerCancel: release,
  };
}
