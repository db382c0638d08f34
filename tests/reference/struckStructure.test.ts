/**
 * A measured record of a struck structure: J.C. Slater, vibrationtesting, case1.mat
 * (data/struck-structure/SOURCE.txt, MIT licence), two channels of an analyser at 1280 Hz. Its toolbox fits
 * 212.0925 Hz to the response function there.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readRecording } from '../../core/recording/index.ts';
import { computeAmplitudeSpectrum, computePsd, findStrikes } from '../../core/signal/index.ts';

const FOLDER = join(import.meta.dirname, 'data', 'struck-structure');
const PUBLISHED_HZ = 212.092530551;
/** Lines of the source's response function, and of one whole record. */
const LINE_HZ = 0.3125;
const recording = readRecording(readFileSync(join(FOLDER, 'case1-time.csv')), 'case1-time.csv');

function findPeakHz(
  frequencyHz: ArrayLike<number>,
  values: ArrayLike<number>,
  lowHz: number,
  highHz: number,
): number {
  let best = -1;
  for (let k = 0; k < values.length; k++) {
    if (frequencyHz[k]! < lowHz || frequencyHz[k]! > highHz) continue;
    if (best < 0 || values[k]! > values[best]!) best = k;
  }
  return frequencyHz[best]!;
}

test('the time record is read in full', () => {
  expect(recording.channels).toHaveLength(2);
  expect(recording.frames).toBe(4096);
  expect(recording.unit).toBe('m/s2');
  // The source's time column runs 4e-5 slow against the 1280 Hz that it states.
  expect(Math.abs(recording.sampleRateHz / 1280 - 1)).toBeLessThan(5e-5);
  expect(recording.channels[1]![3]).toBe(1.3675102);
});

test('the record peaks within a line of the published frequency, in both spectra', () => {
  const response = recording.channels[1]!;
  const { sampleRateHz } = recording;
  const spectrum = computeAmplitudeSpectrum(response, { sampleRateHz });
  const psd = computePsd(response, { sampleRateHz, segmentLength: 4096 });
  for (const peakHz of [
    findPeakHz(spectrum.frequencyHz, spectrum.amplitude, 156.25, 312.2),
    findPeakHz(psd.frequencyHz, psd.density, 156.25, 312.2),
  ]) {
    expect(Math.abs(peakHz - PUBLISHED_HZ)).toBeLessThan(LINE_HZ);
  }
});

test('the spectrum of the record and the response function of the source peak at the same line', () => {
  const rows = readFileSync(join(FOLDER, 'case1-frf.csv'), 'utf8').trim().split('\n').slice(1);
  const lines = rows.map((row) => row.split(',').map(Number));
  const magnitudes = lines.map((line) => Math.hypot(line[1]!, line[2]!));
  const responseHz = findPeakHz(
    lines.map((line) => line[0]!),
    magnitudes,
    156.25,
    312.2,
  );
  const { sampleRateHz } = recording;
  const psd = computePsd(recording.channels[1]!, {
    sampleRateHz,
    segmentLength: 4096,
    window: 'rectangular',
  });
  // The same line; the two rates differ by 4e-5, a hundredth of a hertz here.
  expect(Math.abs(findPeakHz(psd.frequencyHz, psd.density, 156.25, 312.2) - responseHz)).toBeLessThan(
    0.1 * LINE_HZ,
  );
});

test('one strike is found, ringing from the first sample to the end of the record', () => {
  const strikes = findStrikes(recording.channels, recording.sampleRateHz);
  expect(strikes).toHaveLength(1);
  expect(strikes[0]!.startIndex).toBe(0);
  expect(strikes[0]!.endReason).toBe('record end');
  expect(strikes[0]!.noise.source).toBe('none');
});
