import type { KeyboardEvent } from 'react';
import { type Frame, pixelOf, useDrag, valueAt } from '../../plots/index.ts';
import type { Price } from '../calibrationTypes.ts';
import { MARGIN } from './drawPrice.ts';
import { nearestStep, percentOf, showPercent } from './priceAt.ts';

const HANDLE_PX = 24;
const STEPS_WITH_SHIFT = 5;

type ThresholdHandleProps = {
  steps: Price['prices']['prices'];
  /** Where it stands, and the price that it lies on. */
  threshold: number | null;
  at: number;
  frame: Frame;
  height: number;
  onMove: (threshold: number | null) => void;
};

/** The threshold over the price curve: dragged, or moved by arrow keys from one parting of the tests to the next. */
export function ThresholdHandle({ steps, threshold, at, frame, height, onMove }: ThresholdHandleProps) {
  const step = steps[at]!;
  const from =
    threshold === null ? 'never' : threshold === 0 ? 'always' : `${showPercent(steps, threshold)} %`;

  function press(event: KeyboardEvent): void {
    const stride = event.shiftKey ? STEPS_WITH_SHIFT : 1;
    const targets: Record<string, number> = {
      ArrowRight: at + stride,
      ArrowUp: at + stride,
      ArrowLeft: at - stride,
      ArrowDown: at - stride,
      Home: 0,
      End: steps.length - 1,
    };
    const target = targets[event.key];
    if (target === undefined) return;
    event.preventDefault();
    onMove(steps[Math.min(Math.max(target, 0), steps.length - 1)]!.threshold);
  }

  const drag = useDrag(({ x }) => {
    const share = valueAt(frame, x) / 100;
    onMove(steps[nearestStep(steps, share > 1 ? null : Math.max(share, 0))]!.threshold);
  }, 'x');

  return (
    <div
      className="threshold-handle"
      style={{
        left: pixelOf(frame, percentOf(threshold)) - HANDLE_PX / 2,
        top: MARGIN.t,
        height: height - MARGIN.t - MARGIN.b,
        width: HANDLE_PX,
      }}
      role="slider"
      tabIndex={0}
      aria-label="Threshold"
      aria-valuenow={at}
      aria-valuemin={0}
      aria-valuemax={steps.length - 1}
      aria-valuetext={`replace from ${from} on: ${step.missed.count} missed, ${step.needless.count} needless`}
      title="Drag, or use the arrow keys"
      onKeyDown={press}
      {...drag}
    >
      <svg width={HANDLE_PX} height={HANDLE_PX} viewBox="0 0 24 24" aria-hidden>
        <path d="M5 2h14v10l-7 9-7-9z" />
      </svg>
    </div>
  );
}
