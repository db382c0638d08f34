import { type Frame, pixelOf } from '../plots/index.ts';
import { useCursor } from '../state/index.ts';
import { formatSignificant } from '../words/index.ts';
import { MARGIN } from './spectrumFrames.ts';

const DIGITS = 4;

/** The shared place in frequency, over all fields of a figure. @param words - what stands there, after the frequency */
export function FrequencyCursor({ frame, words }: { frame: Frame; words?: (frequencyHz: number) => string }) {
  const frequencyHz = useCursor((s) => s.frequencyHz);
  if (frequencyHz === null || frequencyHz < frame.range[0] || frequencyHz > frame.range[1]) return null;
  const left = pixelOf(frame, frequencyHz);
  return (
    <div className="cursor-layer" aria-hidden>
      <div className="cursor-v" style={{ left, top: MARGIN.t, bottom: MARGIN.b }} />
      <div className="cursor-words at-foot" style={{ left, bottom: MARGIN.b }}>
        {formatSignificant(frequencyHz, DIGITS)} Hz&ensp;{words?.(frequencyHz)}
      </div>
    </div>
  );
}
