import './orders.css';
import { useMemo } from 'react';
import { usePalette } from '../parts/index.ts';
import { useView } from '../state/index.ts';
import type { Stabilisation } from '../types.ts';
import { ClusterLines } from './ClusterLines.tsx';
import { nameOrders } from './describeOrders.ts';
import { drawOrders } from './drawOrders.ts';
import { FrequencyFields } from './FrequencyFields.tsx';
import { MODE_NUMBERS, type PickRow, type Plane } from './pickRows.ts';
import type { PickCommands } from './usePicks.ts';

/** One step of an arrow key on a pick, as close as the lines of a spectrum. */
const STEP_HZ = 0.02;
const MARKS = [
  ['●■', 'holds'],
  ['+', 'frequency and damping hold'],
  ['|', 'frequency holds'],
  ['·', 'new'],
] as const;

type OrdersFigureProps = {
  stabilisation: Stabilisation;
  rows: readonly PickRow[];
  planes: readonly Plane[];
  commands: PickCommands;
};

/** Poles over model orders. Those that hold stand as lines, and any of them can be made a pick. */
export function OrdersFigure({ stabilisation, rows, planes, commands }: OrdersFigureProps) {
  const { view, look } = useView();
  const { frequencyRangeHz: range, nextNumber } = view;
  const palette = usePalette();
  const figure = useMemo(
    () => drawOrders(palette, stabilisation, planes, range),
    [palette, stabilisation, planes, range],
  );
  if (stabilisation.poles.length === 0) {
    return <p className="nothing">No poles: no strike of this visit can be used.</p>;
  }
  return (
    <>
      <div className="orders-bar">
        <label>
          Pick as{' '}
          <select
            value={nextNumber ?? ''}
            onChange={(event) => look({ nextNumber: Number(event.currentTarget.value) || null })}
          >
            <option value="">free mode</option>
            {MODE_NUMBERS.map((number) => (
              <option key={number} value={number}>
                mode {number}
              </option>
            ))}
          </select>
        </label>
        <ul className="orders-marks" aria-label="Marks of the poles">
          {MARKS.map(([mark, words]) => (
            <li key={mark}>
              <span aria-hidden>{mark}</span> {words}
            </li>
          ))}
        </ul>
      </div>
      <FrequencyFields
        label={nameOrders(stabilisation, planes)}
        data={figure.data}
        layout={figure.layout}
        rows={rows}
        planes={planes}
        binHz={STEP_HZ}
        commands={commands}
        inField={(plane, field) => (
          <ClusterLines
            stabilisation={stabilisation}
            rows={rows}
            plane={plane}
            field={field}
            commands={commands}
          />
        )}
      />
    </>
  );
}
