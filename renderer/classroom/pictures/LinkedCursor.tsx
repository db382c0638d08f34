import { pixelOf } from '../../plots/index.ts';
import type { Range } from '../../state/index.ts';
import { useCursor } from '../../state/index.ts';
import { frameAcross, frameUp, MARGIN } from './pictureFrames.ts';

type LinkedCursorProps = {
  width: number;
  height: number;
  across: 'time' | 'frequency';
  range: Range;
  /** Frequencies along the upright axis, where it has them. */
  upRange?: Range;
};

/** The place under the pointer, in every picture of both blows that has its axis. */
export function LinkedCursor({ width, height, across, range, upRange }: LinkedCursorProps) {
  const { timeS, frequencyHz } = useCursor();
  const value = across === 'time' ? timeS : frequencyHz;
  const shown = value !== null && value >= range[0] && value <= range[1];
  const up = upRange !== undefined && frequencyHz !== null && isWithin(frequencyHz, upRange);
  return (
    <div className="cursor-layer" aria-hidden>
      {shown && (
        <>
          <div
            className="cursor-v"
            style={{ left: pixelOf(frameAcross(width, range), value), top: MARGIN.t, bottom: MARGIN.b }}
          />
          <div
            className="cursor-words"
            style={{ left: pixelOf(frameAcross(width, range), value), bottom: MARGIN.b }}
          >
            {across === 'time' ? `${value.toFixed(3)} s` : `${value.toFixed(2)} Hz`}
          </div>
        </>
      )}
      {up && (
        <div
          className="cursor-h"
          style={{ top: pixelOf(frameUp(height, upRange), frequencyHz), left: MARGIN.l, right: MARGIN.r }}
        />
      )}
    </div>
  );
}

function isWithin(value: number, [from, to]: Range): boolean {
  return value >= from && value <= to;
}
