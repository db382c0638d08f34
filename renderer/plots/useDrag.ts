import { type PointerEvent, useRef } from 'react';

/** Less than this is an unsteady click, no drag. */
const SMALLEST_DRAG_PX = 3;

type Drag = { key: string; fromX: number; fromY: number; left: number; top: number; moved: boolean };

let drags = 0;

/**
 * Has a handle that lies over a picture dragged by pointer.
 * @param onPull - told where the pointer is, in px from the picture's corner, and a key that all moves of one drag share
 * @returns listeners of the handle
 */
export function useDrag(onPull: (at: { x: number; y: number }, key: string) => void) {
  const drag = useRef<Drag | null>(null);
  const release = () => {
    drag.current = null;
  };
  return {
    onPointerDown({ currentTarget, pointerId, clientX, clientY }: PointerEvent<HTMLElement>) {
      currentTarget.setPointerCapture(pointerId);
      drags += 1;
      // read once: at each step it would have the whole page laid out in between
      const { left, top } = currentTarget.offsetParent!.getBoundingClientRect();
      drag.current = { key: `drag-${drags}`, fromX: clientX, fromY: clientY, left, top, moved: false };
    },
    onPointerMove({ clientX, clientY }: PointerEvent<HTMLElement>) {
      const { current } = drag;
      if (!current) return;
      current.moved ||= Math.hypot(clientX - current.fromX, clientY - current.fromY) >= SMALLEST_DRAG_PX;
      if (current.moved) onPull({ x: clientX - current.left, y: clientY - current.top }, current.key);
    },
    onPointerUp: release,
    onPointerCancel: release,
  };
}
