import { type Frame, pixelOf, SHOWN_DECIBELS } from '../plots/index.ts';
import { LEVEL_COLOURS } from '../theme.ts';

const TICK_DECIBELS = 20;
const GAP_PX = 6;
const GRADIENT = `linear-gradient(to top, ${LEVEL_COLOURS.map((rgb) => `rgb(${rgb.join(' ')})`).join(', ')})`;

/** What the colours of a spectrogram stand for, to its right. @param across - frame of time; @param up - frame of frequency */
export function LevelScale({ loudest, across, up }: { loudest: number; across: Frame; up: Frame }) {
  const frame: Frame = { ...up, range: [loudest - SHOWN_DECIBELS, loudest], logarithmic: false };
  const lowest = Math.ceil(frame.range[0] / TICK_DECIBELS) * TICK_DECIBELS;
  const ticks = [0, 1, 2, 3].map((i) => lowest + i * TICK_DECIBELS).filter((level) => level <= loudest);
  return (
    <div
      className="level-scale"
      style={{ left: across.endPx + GAP_PX, top: up.endPx, height: up.startPx - up.endPx }}
      aria-hidden
    >
      <div className="level-colours" style={{ background: GRADIENT }} />
      <span className="level-unit">dB</span>
      {ticks.map((level) => (
        <span key={level} style={{ top: pixelOf(frame, level) - up.endPx }}>
          {`${level}`.replace('-', '−')}
        </span>
      ))}
    </div>
  );
}
