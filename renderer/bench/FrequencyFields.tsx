import type { Data, Layout } from 'plotly.js';
import type { ReactNode } from 'react';
import { type AxisRange, Figure, type Frame, keepInside, valueAt } from '../plots/index.ts';
import { useCursor, useView } from '../state/index.ts';
import { FrequencyCursor } from './FrequencyCursor.tsx';
import { PickMarker } from './PickMarker.tsx';
import type { PickRow, Plane } from './pickRows.ts';
import { fieldOf, MARGIN, WHOLE } from './spectrumFrames.ts';
import type { PickCommands } from './usePicks.ts';

/** Where the field of one plane lies over the figure. */
export type Field = { frame: Frame; top: number; height: number; width: number };

type FrequencyFieldsProps = {
  label: string;
  data: readonly Data[];
  layout: Partial<Layout>;
  rows: readonly PickRow[];
  planes: readonly Plane[];
  /** One step of an arrow key. */
  binHz: number;
  commands: PickCommands;
  /** What stands at a frequency, in words at the cursor. */
  tell?: (frequencyHz: number) => string;
  /** Drawn over the field of one plane, below its picks. */
  inField: (plane: Plane, field: Field) => ReactNode;
};

/** A figure over frequency, one field for each plane, with the picks standing in it; its range is the shared one. */
export function FrequencyFields(props: FrequencyFieldsProps) {
  const { rows, planes, binHz, commands, tell, inField } = props;
  const { view, look } = useView();
  const frameOf = (width: number, range: AxisRange): Frame => ({
    startPx: MARGIN.l,
    endPx: width - MARGIN.r,
    range,
  });
  return (
    <Figure
      label={props.label}
      data={props.data}
      layout={props.layout}
      onRange={(axis, next) => {
        if (next === null) look({ frequencyRangeHz: WHOLE });
        else if (axis === 'xaxis') look({ frequencyRangeHz: keepInside(next, WHOLE) });
      }}
      onPointer={(at) => {
        const inside = at && at.x >= MARGIN.l && at.x <= at.width - MARGIN.r;
        useCursor.getState().point({
          timeS: null,
          frequencyHz: inside ? valueAt(frameOf(at.width, view.frequencyRangeHz), at.x) : null,
        });
      }}
    >
      {({ width, height }, moving) => {
        const range = moving.xaxis ?? view.frequencyRangeHz;
        const frame = frameOf(width, range);
        return (
          <>
            <FrequencyCursor frame={frame} {...(tell && { words: tell })} />
            {planes.map((plane, i) => {
              const field = { frame, width, ...fieldOf(i, planes.length, height) };
              return (
                <div key={plane.plane}>
                  {inField(plane, field)}
                  {rows
                    .filter((row) => row.plane === plane.plane && isShown(row, range))
                    .map((row) => (
                      <PickMarker
                        key={row.number}
                        row={row}
                        frame={frame}
                        top={field.top}
                        height={field.height}
                        binHz={binHz}
                        commands={commands}
                      />
                    ))}
                </div>
              );
            })}
          </>
        );
      }}
    </Figure>
  );
}

function isShown(row: PickRow, range: AxisRange): boolean {
  return row.frequencyHz !== null && row.frequencyHz >= range[0] && row.frequencyHz <= range[1];
}
