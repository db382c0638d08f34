import { type Frame, pixelOf } from '../plots/index.ts';
import { useCursor } from '../state/index.ts';
import { MARGIN } from './recordingFrames.ts';

/** The shared place in time and frequency, over waveform and spectrogram. */
export function RecordingCursor({ time, frequency }: { time: Frame; frequency: Frame }) {
  const { timeS, frequencyHz } = useCursor();
  const inRange =
    frequencyHz !== null && frequencyHz >= frequency.range[0] && frequencyHz <= frequency.range[1];
  return (
    <div className="cursor-layer" aria-hidden>
      {timeS !== null && (
        <>
          <div className="cursor-v" style={{ left: pixelOf(time, timeS), top: MARGIN.t, bottom: MARGIN.b }} />
          <div className="cursor-words" style={{ left: pixelOf(time, timeS), top: MARGIN.t }}>
            {timeS.toFixed(3)} s
          </div>
        </>
      )}
      {inRange && (
        <div
          className="cursor-h"
          style={{ top: pixelOf(frequency, frequencyHz), left: MARGIN.l, right: MARGIN.r }}
        />
      )}
    </div>
  );
}
