import type { DataTableContent } from '../../parts/index.ts';
import { formatSignificant, nameAzimuth } from '../../words/index.ts';
import type { FaultMark, Spectrogram, Spectrum, Waveform } from '../classroomTypes.ts';

const MOST_PEAKS = 8;
const TOLD_MOMENTS = 12;

/** What a waveform shows, as a table: the reach of each axis, and every mark. */
export function tabulateWaveform(
  name: string,
  { channels, timesS }: Waveform,
  marks: readonly FaultMark[],
): DataTableContent {
  return {
    caption: `Waveform of ${name}, times from the blow`,
    columns: ['What', 'From', 'To'],
    rows: [
      ...channels.map(({ azimuthDeg, low, high }) => [
        `Acceleration of the axis at ${nameAzimuth(azimuthDeg)}`,
        `${formatSignificant(Math.min(...low))} m/s²`,
        `${formatSignificant(Math.max(...high))} m/s²`,
      ]),
      ['Time shown', `${timesS[0]?.toFixed(3)} s`, `${timesS.at(-1)?.toFixed(3)} s`],
      ...marks.map(({ words, timeS, frequencyHz }) => [
        `Marked: ${words}`,
        ...(timeS ?? frequencyHz ?? ['', '']).map((value) =>
          value === '' ? 'everywhere' : `${Number(value).toFixed(3)} ${timeS ? 's' : 'Hz'}`,
        ),
      ]),
    ],
  };
}

/** The highest peaks of each axis. */
export function tabulateSpectrum(name: string, { channels, frequenciesHz }: Spectrum): DataTableContent {
  const rows = channels.flatMap(({ azimuthDeg, values }) =>
    values
      .flatMap((value, i) =>
        value > (values[i - 1] ?? 0) && value >= (values[i + 1] ?? 0)
          ? [{ value, hz: frequenciesHz[i]! }]
          : [],
      )
      .sort((a, b) => b.value - a.value)
      .slice(0, MOST_PEAKS)
      .map(({ value, hz }) => [
        `${nameAzimuth(azimuthDeg)}`,
        `${formatSignificant(hz)} Hz`,
        `${formatSignificant(value)} m/s²`,
      ]),
  );
  return {
    caption: `Highest peaks of the spectrum of ${name}`,
    columns: ['Axis', 'Frequency', 'Amplitude'],
    rows,
  };
}

/** Where it is loudest, at moments spread over the time. */
export function tabulateSpectrogram(
  name: string,
  { timesS, frequenciesHz, values }: Spectrogram,
): DataTableContent {
  const step = Math.max(1, Math.ceil(timesS.length / TOLD_MOMENTS));
  const moments = timesS.flatMap((timeS, j) => (j % step === 0 ? [{ timeS, j }] : []));
  return {
    caption: `Spectrogram of ${name}: where it is loudest, over time`,
    columns: ['Time from the blow', 'Loudest at', 'Level'],
    rows: moments.map(({ timeS, j }) => {
      const column = values.map((row) => row[j]!);
      const level = Math.max(...column);
      return [
        `${timeS.toFixed(2)} s`,
        `${formatSignificant(frequenciesHz[column.indexOf(level)])} Hz`,
        `${level.toFixed(0)} dB`,
      ];
    }),
  };
}
