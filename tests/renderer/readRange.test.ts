import { expect, test } from 'vitest';
import { priorOf, widestHigh } from '../../renderer/bench/priors/priorEdits.ts';
import { readRange } from '../../renderer/bench/priors/readRange.ts';
import { makeVisit } from '../inference/makeModel.ts';

const GPA = { symbol: 'GPa', scale: 1e9 };
const DENSITY = { symbol: 'kg/m³', scale: 1 };
const METRE = { symbol: 'm', scale: 1 };
const LENGTH_M = 9;

test('a range in the unit shown becomes one in SI', () => {
  expect(readRange('modulusPa', { low: '9', high: '12,5' }, GPA, LENGTH_M)).toEqual({
    range: { low: 9e9, high: 12.5e9 },
  });
});

test('what is out of range is told at its own field, in the unit of the field', () => {
  expect(readRange('densityKgPerM3', { low: '1', high: '1e9' }, DENSITY, LENGTH_M)).toEqual({
    wrong: { low: 'type a number from 50 to 3000 kg/m³', high: 'type a number from 50 to 3000 kg/m³' },
  });
  expect(readRange('modulusPa', { low: '9', high: '12000' }, GPA, LENGTH_M)).toEqual({
    wrong: { high: 'type a number from 0.1 to 1000 GPa' },
  });
  expect(readRange('settingDepthM', { low: '1.2', high: '5' }, METRE, LENGTH_M)).toEqual({
    wrong: { high: 'type a number from 0.3 to 4.5 m' },
  });
  expect(readRange('settingDepthM', { low: '1.2', high: '1.2' }, METRE, LENGTH_M)).toEqual({
    wrong: { high: 'type more than the first number' },
  });
});

test('a range wider than the program takes is told how far it may go', () => {
  // 1.645 sd either way, of 1 m and of 0.5 m at most; a factor of e to the 2 x 1.645 x 1.5
  expect(readRange('settingDepthM', { low: '0.5', high: '4.4' }, METRE, LENGTH_M)).toEqual({
    wrong: { high: 'too wide a range: type at most 3.78 m' },
  });
  expect(readRange('tipGirthM', { low: '0.4', high: '2.5' }, METRE, LENGTH_M)).toEqual({
    wrong: { high: 'too wide a range: type at most 2.04 m' },
  });
  expect(readRange('modulusPa', { low: '1', high: '200' }, GPA, LENGTH_M)).toEqual({
    wrong: { high: 'too wide a range: type at most 139 GPa' },
  });
});

test('the widest range that a form takes is one that a visit takes', () => {
  const LOWS = { modulusPa: 1e9, soilModulus: 1e6, settingDepthM: 0.5, tipGirthM: 0.2 };
  for (const [name, low] of Object.entries(LOWS) as [keyof typeof LOWS, number][]) {
    const { name: _, ...prior } = priorOf(name, { low, high: widestHigh(name, low) });
    expect(makeVisit({ options: { priors: { [name]: prior } } }).options.priors?.[name]).toEqual(prior);
  }
});
