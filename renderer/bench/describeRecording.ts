import type { DataTableContent } from '../parts/index.ts';
import type { Reading, RecordingInfo, Strike, Waveform } from '../types.ts';
import { formatSignificant, nameAxis } from '../words/index.ts';

/** What a screen reader calls the figure of a recording. */
export function nameRecording(
  info: RecordingInfo,
  reading: Reading | undefined,
  strikes: readonly Strike[],
): string {
  const verdicts = strikes
    .map((s, i) => `strike ${i + 1} at ${s.startS.toFixed(2)} s: ${s.verdict}`)
    .join('; ');
  return `Waveform and spectrogram of ${info.file}${reading ? `, ${formatSignificant(reading.durationS)} s` : ''}. ${verdicts}`;
}

/** The figure of a recording as a table of its strikes. */
export function tabulateRecording(
  info: RecordingInfo,
  reading: Reading | undefined,
  strikes: readonly Strike[],
  waveform: Waveform | null,
): DataTableContent {
  const peak = (strike: Strike, channel: number) => {
    const trace = waveform?.channels[channel];
    const inside = waveform?.timesS.flatMap((t, i) =>
      t >= strike.startS && t <= strike.endS ? [Math.max(trace?.high[i] ?? 0, -(trace?.low[i] ?? 0))] : [],
    );
    return inside?.length ? formatSignificant(Math.max(...inside)) : 'not in view';
  };
  return {
    caption: `Strikes of ${info.file}, ${info.exciter}${reading ? `, ${formatSignificant(reading.sampleRateHz)} samples a second` : ''}`,
    columns: [
      'Strike',
      'Start, s',
      'End, s',
      'Verdict',
      ...info.azimuthsDeg.map((a, i) => `Channel ${i + 1}, ${nameAxis(a)}: peak, m/s²`),
    ],
    rows: strikes.map((strike, i) => [
      String(i + 1),
      strike.startS.toFixed(2),
      strike.endS.toFixed(2),
      strike.verdict,
      ...info.azimuthsDeg.map((_, channel) => peak(strike, channel)),
    ]),
  };
}
