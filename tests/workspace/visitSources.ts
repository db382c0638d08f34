import type { VisitFile } from '../../core/recording/index.ts';
import type { VisitSource } from '../../core/workspace/index.ts';
import { visit as wholeVisit } from '../report/fixture.ts';

/** An invented recording: decaying sines of known amplitude on two axes after a second of rest. */
export const RATE_HZ = 200;
export const DURATION_S = 10;
/** Of a recording that a store keeps in pieces. */
export const LONG_S = 300;
export const BLOW_S = 1;
export const AXES = [
  { frequencyHz: 3, amplitudeMPerS2: 4, decayPerS: 1.5 },
  { frequencyHz: 4, amplitudeMPerS2: 2, decayPerS: 1.5 },
] as const;

export function makeCsv(seed = 0, durationS = DURATION_S): string {
  const rows = Array.from({ length: RATE_HZ * durationS }, (_, i) => {
    const t = i / RATE_HZ - BLOW_S;
    const values = AXES.map(({ frequencyHz, amplitudeMPerS2, decayPerS }) =>
      t < 0 ? 0 : amplitudeMPerS2 * Math.exp(-decayPerS * t) * Math.sin(2 * Math.PI * frequencyHz * t),
    );
    const noise = 1e-3 * Math.sin(997 * (i + seed));
    return [i / RATE_HZ, ...values.map((value) => (value + noise).toFixed(6))].join(',');
  });
  return ['time [s],a [m/s2],b [m/s2]', ...rows].join('\n');
}

export function makeVisitFile(poleId: string, changes: { date?: string; files?: string[] } = {}): VisitFile {
  const { date = '2026-05-03', files = [`${poleId}.csv`] } = changes;
  return {
    ...wholeVisit,
    pole: { ...wholeVisit.pole, id: poleId },
    measured: { ...wholeVisit.measured, date },
    recordings: files.map((file) => ({
      file,
      exciter: 'hammer',
      channels: [
        { index: 0, azimuthDeg: 0 },
        { index: 1, azimuthDeg: 90 },
      ],
    })),
  };
}

/** A visit as an import finds it, with its recordings by name. */
export function makeSource(
  visit: VisitFile | string,
  recordings: Record<string, string>,
  fileName = 'a.visit.json',
): VisitSource {
  const text = typeof visit === 'string' ? visit : JSON.stringify(visit);
  return {
    fileName,
    readVisitFile: () => Buffer.from(text),
    readRecordingFile: (name) => (name in recordings ? Buffer.from(recordings[name]!) : undefined),
  };
}
