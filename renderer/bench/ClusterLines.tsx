import { type KeyboardEvent, useId, useState } from 'react';
import { pixelOf } from '../plots/index.ts';
import { useView } from '../state/index.ts';
import type { Cluster, Stabilisation } from '../types.ts';
import { namePlane } from '../words/index.ts';
import { clustersOfPlane, pickAt, suggestNumber } from './clusterPicks.ts';
import { describeCluster } from './describeOrders.ts';
import type { Field } from './FrequencyFields.tsx';
import { MODE_NUMBERS, type PickRow, type Plane } from './pickRows.ts';
import { MARGIN } from './spectrumFrames.ts';
import type { PickCommands } from './usePicks.ts';

/** Width of a line to the pointer. */
const HIT_PX = 11;
const WORDS_PX = 19;

type ClusterLinesProps = {
  stabilisation: Stabilisation;
  rows: readonly PickRow[];
  plane: Plane;
  field: Field;
  commands: PickCommands;
};

/**
 * The poles of one plane that hold, as lines. A click makes one a pick; by keyboard the arrows walk from line to
 * line, Enter or A picks, and a digit picks as the mode of that number.
 */
export function ClusterLines({ stabilisation, rows, plane, field, commands }: ClusterLinesProps) {
  const id = useId();
  const [chosen, setChosen] = useState<number | null>(null);
  const { view, look } = useView();
  const { placing, nextNumber } = view;
  const { frame } = field;
  const clusters = clustersOfPlane(stabilisation, plane.plane).filter(
    ({ frequencyHz }) => frequencyHz >= frame.range[0] && frequencyHz <= frame.range[1],
  );
  if (clusters.length === 0) return null;
  const active = chosen === null ? null : Math.min(chosen, clusters.length - 1);
  const shown = active === null ? null : clusters[active]!;

  function numberFor({ frequencyHz }: Cluster): number | null {
    if (placing?.plane === plane.plane) return placing.number;
    return nextNumber ?? suggestNumber(rows, plane.plane, frequencyHz);
  }

  function pick(cluster: Cluster, number: number | null): void {
    if (number === null) return;
    commands.place({ ...plane, number }, cluster.frequencyHz);
    look({ placing: null });
  }

  function press(event: KeyboardEvent): void {
    const last = clusters.length - 1;
    const digit = MODE_NUMBERS.find((number) => event.key === String(number));
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'ArrowRight' || event.key === 'ArrowUp')
      setChosen(active === null ? 0 : Math.min(active + 1, last));
    else if (event.key === 'ArrowLeft' || event.key === 'ArrowDown')
      setChosen(active === null ? last : Math.max(active - 1, 0));
    else if (event.key === 'Home') setChosen(0);
    else if (event.key === 'End') setChosen(last);
    else if (shown && ['Enter', ' ', 'a', 'A'].includes(event.key)) pick(shown, numberFor(shown));
    else if (shown && digit) pick(shown, digit);
    else return;
    event.preventDefault();
  }

  return (
    <>
      <div
        className="cluster-lines"
        role="listbox"
        tabIndex={0}
        aria-label={`Poles that hold in ${namePlane(plane.plane, plane.azimuthDeg)}`}
        aria-orientation="horizontal"
        aria-activedescendant={active === null ? undefined : `${id}-${active}`}
        style={{
          left: MARGIN.l,
          top: field.top,
          width: field.width - MARGIN.l - MARGIN.r,
          height: field.height,
        }}
        onFocus={() => setChosen((index) => index ?? 0)}
        onKeyDown={press}
        onBlur={() => setChosen(null)}
      >
        {clusters.map((cluster, index) => (
          // biome-ignore lint/a11y/useFocusableInteractive: the list keeps the focus and names its active option.
          // biome-ignore lint/a11y/useKeyWithClickEvents: the list takes the keys for all of them.
          <div
            key={`${cluster.frequencyHz}-${cluster.plane}`}
            id={`${id}-${index}`}
            role="option"
            className="cluster-line"
            aria-selected={pickAt(rows, plane.plane, cluster.frequencyHz) !== undefined}
            aria-label={describeCluster(stabilisation, cluster, plane.plane)}
            data-active={index === active}
            style={{ left: pixelOf(frame, cluster.frequencyHz) - MARGIN.l - HIT_PX / 2, width: HIT_PX }}
            onPointerEnter={() => setChosen(index)}
            onPointerLeave={() => setChosen(null)}
            onClick={() => pick(cluster, numberFor(cluster))}
          />
        ))}
      </div>
      {shown && (
        <ClusterWords
          words={describeCluster(stabilisation, shown, plane.plane)}
          command={commandWords(numberFor(shown))}
          leftPx={pixelOf(frame, shown.frequencyHz)}
          field={field}
        />
      )}
    </>
  );
}

function commandWords(number: number | null): string {
  return number === null ? 'no free number: press 1 to 4' : `Enter: mode ${number}`;
}

/** At the end of the field that is farther from the line, so that the words never hide it. */
function ClusterWords(props: { words: string; command: string; leftPx: number; field: Field }) {
  const { frame, top, height } = props.field;
  const isLeft = props.leftPx < (frame.startPx + frame.endPx) / 2;
  return (
    <div
      className={isLeft ? 'cluster-words at-end' : 'cluster-words'}
      style={{ left: frame.startPx, width: frame.endPx - frame.startPx, top: top + height - WORDS_PX }}
      aria-hidden
    >
      <span>
        {props.words}. <strong>{props.command}</strong>
      </span>
    </div>
  );
}
