/**
 * Windows against the table of Harris 1978 (Proc. IEEE 66(1):51-83, table 1) as recomputed at N = 4096 in
 * data/windows.csv: coherent gain, noise bandwidth and scalloping loss. Agreement: half of the last digit
 * printed there.
 */
import { expect, test } from 'vitest';
import { buildWindow, computeNoiseBandwidthBins, type WindowKind } from '../../core/signal/index.ts';
import { readReferenceTable } from './readReferenceTable.ts';

const LENGTH = 4096;
const NAMES: readonly (readonly [string, WindowKind])[] = [
  ['rect', 'rectangular'],
  ['hann', 'hann'],
  ['hamming', 'hamming'],
  ['blackmanharris', 'blackman-harris'],
  ['flattop', 'flat-top'],
];

/** Gain of the window for a sine `offBins` from a bin, over its gain at the bin, in dB. */
function computeLossDb(weights: Float64Array, offBins: number): number {
  let re = 0;
  let im = 0;
  let sum = 0;
  weights.forEach((weight, i) => {
    re += weight * Math.cos((2 * Math.PI * offBins * i) / weights.length);
    im += weight * Math.sin((2 * Math.PI * offBins * i) / weights.length);
    sum += weight;
  });
  return -20 * Math.log10(Math.hypot(re, im) / sum);
}

const rows = readReferenceTable('windows.csv');

test.each(NAMES)('%s', (name, kind) => {
  const row = rows.find((candidate) => candidate.window === name)!;
  const weights = buildWindow(kind, LENGTH);
  expect(weights.reduce((sum, weight) => sum + weight, 0) / LENGTH).toBeCloseTo(Number(row.coherent_gain), 6);
  expect(computeNoiseBandwidthBins(weights)).toBeCloseTo(Number(row.ENBW_bins), 5);
  expect(Math.abs(computeLossDb(weights, 0.5) - Number(row.scalloping_dB))).toBeLessThan(1e-4);
});
