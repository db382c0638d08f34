import type { KeyboardEvent } from 'react';
import { pixelOf, useDrag, valueAt } from '../plots/index.ts';
import type { Thought } from '../state/index.ts';
import { formatSignificant } from '../words/index.ts';
import type { StemRootFrames } from './drawStemRoot.ts';
import { FIXITY_LIMITS, keepWithin, MODULUS_LIMITS } from './numberLimits.ts';

type Place = NonNullable<Thought['place']>;

const PA_PER_GPA = 1e9;
const HANDLE_PX = 24;
const STEP_GPA = 0.1;
const STEP_FACTOR = 1.05;
const STEPS_WITH_SHIFT = 10;

type ThoughtHandleProps = {
  place: Place;
  /** Of the fit, where the line to the handle starts. */
  fitted: Place;
  frames: StemRootFrames;
  /** @param key - of one drag: its moves are one step back */
  onMove: (place: Place, key?: string) => void;
};

/**
 * The stem and root in thought: a point of the picture that is dragged, or moved by arrow keys (left and right E, up
 * and down fixity).
 */
export function ThoughtHandle({ place, fitted, frames, onMove }: ThoughtHandleProps) {
  const at = locate(place, frames);
  const from = locate(fitted, frames);
  const modulusGPa = place.modulusPa / PA_PER_GPA;

  function press(event: KeyboardEvent): void {
    const steps = event.shiftKey ? STEPS_WITH_SHIFT : 1;
    const turn = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    if (turn === undefined) return;
    event.preventDefault();
    if (event.key === 'ArrowRight' || event.key === 'ArrowLeft') {
      const moved = keepWithin(modulusGPa + turn * steps * STEP_GPA, MODULUS_LIMITS);
      onMove({ ...place, modulusPa: moved * PA_PER_GPA });
    } else {
      const moved = keepWithin(place.fixity * STEP_FACTOR ** (turn * steps), FIXITY_LIMITS);
      onMove({ ...place, fixity: moved });
    }
  }

  const drag = useDrag(({ x, y }, key) => {
    const { stem, root } = frames;
    onMove(
      {
        modulusPa: valueAt(stem, clamp(x, stem.startPx, stem.endPx)) * PA_PER_GPA,
        fixity: valueAt(root, clamp(y, root.endPx, root.startPx)),
      },
      key,
    );
  }, 'both');

  return (
    <>
      <svg className="thought-line" aria-hidden>
        <line x1={from.x} y1={from.y} x2={at.x} y2={at.y} />
      </svg>
      <div
        className="thought-handle"
        style={{ left: at.x - HANDLE_PX / 2, top: at.y - HANDLE_PX / 2 }}
        role="slider"
        tabIndex={0}
        aria-label="Stem and root in thought"
        aria-valuenow={Number(modulusGPa.toFixed(3))}
        aria-valuemin={frames.stem.range[0]}
        aria-valuemax={frames.stem.range[1]}
        aria-valuetext={`E ${formatSignificant(modulusGPa)} GPa, fixity ${formatSignificant(place.fixity)}`}
        title="Drag, or use arrow keys: left and right E, up and down fixity"
        onKeyDown={press}
        {...drag}
      >
        <svg width={HANDLE_PX} height={HANDLE_PX} viewBox="0 0 24 24" aria-hidden>
          <path d="M12 3 21 12 12 21 3 12z" />
        </svg>
      </div>
    </>
  );
}

/** Where a place is drawn: one out of view stays at the edge. */
function locate({ modulusPa, fixity }: Place, { stem, root }: StemRootFrames): { x: number; y: number } {
  return {
    x: clamp(pixelOf(stem, modulusPa / PA_PER_GPA), stem.startPx, stem.endPx),
    y: clamp(pixelOf(root, fixity), root.endPx, root.startPx),
  };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}
