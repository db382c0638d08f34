import { useElementSize } from '@mantine/hooks';
import type { Data, Layout, PlotlyHTMLElement } from 'plotly.js';
import { type ReactNode, useEffect, useRef } from 'react';
import { Plotly } from './plotly.ts';

export type FigureProps = {
  /** What a screen reader calls the plot: its subject and its main reading. */
  label: string;
  data: readonly Data[];
  layout: Partial<Layout>;
  /** An axis was zoomed by dragging, or (null) asked to show all again by a double click. */
  onRange?: (axis: string, range: readonly [number, number] | null) => void;
  /** The pointer over the plot, in pixels from its corner; null where it left. */
  onPointer?: (at: { x: number; y: number; width: number; height: number } | null) => void;
  /** Drawn over the plot, told its size in pixels. */
  children?: (size: { width: number; height: number }) => ReactNode;
};

const CONFIG = { displayModeBar: false, doubleClick: false, responsive: false } as const;

/** One Plotly figure that fills its box and is reused for every change of data, size or scheme. */
export function Figure({ label, data, layout, onRange, onPointer, children }: FigureProps) {
  const { ref: boxRef, width, height } = useElementSize();
  const plotRef = useRef<HTMLDivElement>(null);
  const rangeRef = useRef(onRange);
  rangeRef.current = onRange;
  const ready = width > 0 && height > 0;
  const drawingRef = useRef<Promise<unknown>>(Promise.resolve());

  useEffect(() => {
    const plot = plotRef.current;
    if (!plot || !ready) return;
    const isNew = !plot.classList.contains('js-plotly-plot');
    drawingRef.current = Plotly.react(plot, data as Data[], { ...layout, width, height } as Layout, CONFIG);
    if (isNew)
      listenToRanges(plot as unknown as PlotlyHTMLElement, (axis, range) => rangeRef.current?.(axis, range));
  }, [data, layout, width, height, ready]);

  useEffect(() => {
    const plot = plotRef.current;
    return () => {
      // a figure that is taken away in the midst of drawing is cleared when the drawing has ended
      if (plot) void drawingRef.current.finally(() => Plotly.purge(plot));
    };
  }, []);

  return (
    <div
      className="figure"
      ref={boxRef}
      onPointerMove={(event) => {
        const box = event.currentTarget.getBoundingClientRect();
        onPointer?.({ x: event.clientX - box.left, y: event.clientY - box.top, width, height });
      }}
      onPointerLeave={() => onPointer?.(null)}
    >
      <div className="figure-plot" ref={plotRef} role="img" aria-label={label} />
      {ready && children?.({ width, height })}
    </div>
  );
}

function listenToRanges(
  plot: PlotlyHTMLElement,
  tell: (axis: string, range: readonly [number, number] | null) => void,
): void {
  plot.on('plotly_relayout', (event) => {
    const changes = event as Record<string, unknown>;
    for (const [key, value] of Object.entries(changes)) {
      const [axis, part] = key.split('.');
      if (!axis || !part) continue;
      if (part === 'range[0]') tell(axis, [Number(value), Number(changes[`${axis}.range[1]`])]);
    }
  });
  plot.on('plotly_doubleclick', () => {
    tell('all', null);
  });
}
