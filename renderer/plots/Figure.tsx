import { useElementSize } from '@mantine/hooks';
import type { Data, Layout, PlotlyHTMLElement } from 'plotly.js';
import { type KeyboardEvent, type PointerEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { Plotly } from './plotly.ts';
import { type AxisRange, moveByKey } from './rangeKeys.ts';

type Size = { width: number; height: number };

export type FigureProps = {
  /** What a screen reader calls the plot: its subject and its main reading. */
  label: string;
  data: readonly Data[];
  layout: Partial<Layout>;
  /**
   * An axis was zoomed (by dragging, or by the wheel about the pointer) or moved (by dragging with Shift); by arrow keys, plus and
   * minus too. null: asked to show all again, by a double click or the key 0. Its plot can be zoomed only where this is given.
   */
  onRange?: (axis: string, range: AxisRange | null) => void;
  /** The pointer over the plot, in pixels from its corner; null where it left. */
  onPointer?: (at: { x: number; y: number; width: number; height: number } | null) => void;
  /**
   * Drawn over the plot, told its size in pixels.
   * @param moving - ranges of axes under way while a hand or a wheel moves them; the plot's own otherwise
   */
  children?: (size: Size, moving: Readonly<Record<string, AxisRange>>) => ReactNode;
};

const CONFIG = { displayModeBar: false, doubleClick: false, responsive: false } as const;
const AT_REST: Readonly<Record<string, AxisRange>> = {};

/** One Plotly figure that fills its box and is reused for every change of data, size or scheme. */
export function Figure({ label, data, layout, onRange, onPointer, children }: FigureProps) {
  const { ref: boxRef, width, height } = useElementSize();
  const plotRef = useRef<HTMLDivElement>(null);
  const rangeRef = useRef(onRange);
  rangeRef.current = onRange;
  const isZoomable = onRange !== undefined;
  const [moving, setMoving] = useState(AT_REST);
  const ready = width > 0 && height > 0;
  const drawingRef = useRef<Promise<unknown>>(Promise.resolve());

  useEffect(() => {
    const plot = plotRef.current;
    if (!plot || !ready) return;
    const isNew = !plot.classList.contains('js-plotly-plot');
    const config = { ...CONFIG, scrollZoom: isZoomable };
    drawingRef.current = Plotly.react(plot, data as Data[], { ...layout, width, height } as Layout, config);
    if (isNew) {
      listenToRanges(plot as unknown as PlotlyHTMLElement, setMoving, (axis, range) =>
        rangeRef.current?.(axis, range),
      );
    }
  }, [data, layout, width, height, ready, isZoomable]);

  useEffect(() => {
    const plot = plotRef.current;
    return () => {
      // a figure that is taken away in the midst of drawing is cleared when the drawing has ended
      if (plot) void drawingRef.current.finally(() => Plotly.purge(plot));
    };
  }, []);

  function press(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target !== event.currentTarget) return;
    const range = (layout.xaxis?.range ?? [0, 1]) as [number, number];
    const next = moveByKey(event.key, event.shiftKey, range);
    if (next === undefined) return;
    event.preventDefault();
    onRange?.(next === null ? 'all' : 'xaxis', next);
  }

  /** The browser tells of a pointer before it draws, once a frame: what follows is drawn with what else the same move changed. */
  function follow({ currentTarget, clientX, clientY }: PointerEvent<HTMLDivElement>): void {
    const box = currentTarget.getBoundingClientRect();
    onPointer?.({ x: clientX - box.left, y: clientY - box.top, width, height });
  }

  return (
    <div className="figure" ref={boxRef} onPointerMove={follow} onPointerLeave={() => onPointer?.(null)}>
      <div
        className="figure-plot"
        ref={plotRef}
        role="img"
        aria-label={label}
        {...(isZoomable && {
          tabIndex: 0,
          onKeyDown: press,
          'aria-keyshortcuts': 'ArrowLeft ArrowRight + - 0',
        })}
      />
      {ready && children?.({ width, height }, moving)}
    </div>
  );
}

/** Ranges in an event of Plotly, by axis. */
function readRanges(event: unknown): [axis: string, range: AxisRange][] {
  const changes = event as Record<string, unknown>;
  return Object.entries(changes).flatMap(([key, value]): [string, AxisRange][] => {
    const [axis, part] = key.split('.');
    if (!axis || part !== 'range[0]') return [];
    return [[axis, [Number(value), Number(changes[`${axis}.range[1]`])]]];
  });
}

function listenToRanges(
  plot: PlotlyHTMLElement,
  move: (moving: Readonly<Record<string, AxisRange>>) => void,
  tell: (axis: string, range: AxisRange | null) => void,
): void {
  plot.on('plotly_relayouting', (event) => move(Object.fromEntries(readRanges(event))));
  plot.on('plotly_relayout', (event) => {
    move(AT_REST);
    for (const [axis, range] of readRanges(event)) tell(axis, range);
  });
  plot.on('plotly_doubleclick', () => {
    tell('all', null);
  });
}
