import type { DataTableContent } from '../parts/index.ts';
import type { Assessment } from '../types.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import type { PickRow } from './pickRows.ts';

/** What a screen reader calls the figure of the spectrum. */
export function nameSpectrum(rows: readonly PickRow[], strike: number | 'combined' | null): string {
  const picks = rows
    .filter((row) => row.frequencyHz !== null)
    .map(
      (row) =>
        `mode ${row.number} of ${namePlane(row.plane, row.azimuthDeg)} at ${formatSignificant(row.frequencyHz, 4)} Hz`,
    );
  return `Spectrum of ${nameStretch(strike)}. ${picks.length ? `Picks: ${picks.join('; ')}` : 'No picks'}`;
}

function nameStretch(strike: number | 'combined' | null): string {
  if (strike === null) return 'the whole recording';
  return strike === 'combined' ? 'the strikes combined' : 'the chosen strike';
}

/** The figure of the spectrum as a table of its peaks. */
export function tabulateSpectrum(
  rows: readonly PickRow[],
  otherPeaks: Assessment['otherPeaks'],
): DataTableContent {
  return {
    caption: 'Peaks of the spectrum',
    columns: ['Peak', 'Frequency, Hz', 'Predicted, Hz', 'Remark'],
    rows: [
      ...rows
        .filter((row) => row.frequencyHz !== null)
        .map((row) => [
          `mode ${row.number}, ${namePlane(row.plane, row.azimuthDeg)}`,
          formatSignificant(row.frequencyHz, 4),
          formatSignificant(row.predictedHz, 4),
          `${row.state}. ${row.reason}`,
        ]),
      ...otherPeaks.map((peak) => [
        `other, ${namePlane(peak.plane, peak.azimuthDeg)}`,
        formatSignificant(peak.frequencyHz, 4),
        '',
        peak.reason,
      ]),
    ],
  };
}
