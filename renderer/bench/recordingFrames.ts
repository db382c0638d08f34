import { type Frame, valueAt } from '../plots/index.ts';
import type { Range } from '../state/index.ts';

export const MARGIN = { l: 54, r: 58, t: 18, b: 22 } as const;
/** Share of the figure's height for all waveforms together; the spectrogram takes what is left below the gap. */
export const WAVEFORM_SHARE = 0.54;
export const GAP = 0.04;
/** A logarithmic axis of frequency starts here: below, no pole of a line rings. */
const LOWEST_LOG_HZ = 0.5;

/** The frequencies that the spectrogram shows: those of the spectrum, as far as its axis can. */
export function shownFrequencies(range: Range, logarithmic: boolean): Range {
  return logarithmic ? [Math.max(range[0], LOWEST_LOG_HZ), Math.max(range[1], 2 * LOWEST_LOG_HZ)] : range;
}

/** Vertical frame of the spectrogram and horizontal frame of time, in pixels of the figure. */
export function framesOf(
  width: number,
  height: number,
  timeRangeS: Range,
  frequencyRangeHz: Range,
  logarithmic: boolean,
) {
  const inner = height - MARGIN.t - MARGIN.b;
  const time: Frame = { startPx: MARGIN.l, endPx: width - MARGIN.r, range: timeRangeS };
  const frequency: Frame = {
    startPx: MARGIN.t + inner,
    endPx: MARGIN.t + inner * (WAVEFORM_SHARE + GAP),
    range: shownFrequencies(frequencyRangeHz, logarithmic),
    logarithmic,
  };
  return { time, frequency };
}

/** Time and, over the spectrogram, frequency under the pointer. */
export function readPointer(
  at: { x: number; y: number; width: number; height: number } | null,
  timeRangeS: Range,
  frequencyRangeHz: Range,
  logarithmic: boolean,
): { timeS: number | null; frequencyHz: number | null } {
  if (!at) return { timeS: null, frequencyHz: null };
  const { time, frequency } = framesOf(at.width, at.height, timeRangeS, frequencyRangeHz, logarithmic);
  const within = at.x >= time.startPx && at.x <= time.endPx;
  const inLevels = within && at.y >= frequency.endPx && at.y <= frequency.startPx;
  return {
    timeS: within ? valueAt(time, at.x) : null,
    frequencyHz: inLevels ? valueAt(frequency, at.y) : null,
  };
}
