import { describe, expect, test } from 'vitest';
import { readCsv } from '../../core/recording/index.ts';

const encode = (text: string) => new TextEncoder().encode(text);
const ROWS = 20;

function makeCsv(header: string, row: (i: number) => string, newline = '\n'): Uint8Array {
  return encode([header, ...Array.from({ length: ROWS }, (_, i) => row(i))].join(newline) + newline);
}

describe('readCsv', () => {
  test.each([
    ['time_s,plane0_m_per_s2,plane1_m_per_s2', (i: number) => `${i / 1000},${i},${-i}`, 1, '\n'],
    ['time [s];ch1 [g];ch2 [g]', (i: number) => `${i / 1000};${i};${-i}`, 9.80665, '\r\n'],
    ['t (ms)\tx (mg)\ty (mg)', (i: number) => `${i}\t${i}\t${-i}`, 9.80665e-3, '\n'],
    ['time_ms,a [m/s²],b [m/s^2]', (i: number) => `${i}.0, ${i}, ${-i}`, 1, '\n'],
    ['"time [s]","ch, one [m/s2]","ch two [m/s2]"', (i: number) => `"${i / 1000}","${i}","${-i}"`, 1, '\n'],
  ])('%s', (header, row, factor, newline) => {
    const recording = readCsv(makeCsv(header, row, newline), 'a.csv');
    expect(recording).toMatchObject({ unit: 'm/s2', frames: ROWS, coding: 'text', warnings: [] });
    expect(recording.sampleRateHz).toBeCloseTo(1000, 6);
    expect(recording.channels).toHaveLength(2);
    expect(recording.channels[0]![7]).toBe(7 * factor);
    expect(recording.channels[1]![7]).toBe(-7 * factor);
  });

  test('a stated rate, comments, blank lines, a byte order mark, fractions of full scale', () => {
    const text = '\uFEFF# made by hand\nsample_rate_hz,2000\n\nx_fs,y_fs\n';
    const recording = readCsv(encode(text + '0.5,-1e-3\n'.repeat(ROWS)), 'a.csv');
    expect(recording.sampleRateHz).toBe(2000);
    expect(recording.unit).toBe('full scale');
    expect(recording.channels[1]![0]).toBe(-0.001);
  });

  test('times rounded in print are taken as even', () => {
    // 4096 Hz printed to a microsecond: each step is off by up to 0.2 % from rounding alone.
    const recording = readCsv(
      makeCsv('time_s,x_g', (i) => `${(i / 4096).toFixed(6)},1`),
      'a.csv',
    );
    expect(Math.abs(recording.sampleRateHz / 4096 - 1)).toBeLessThan(2e-4);
  });

  test.each([
    ['no unit', makeCsv('time_s,x', () => '0,1'), /row 1: column "x" names no unit/],
    ['an unknown unit', makeCsv('time_s,x [ft/s2]', () => '0,1'), /column "x \[ft\/s2\]"/],
    ['time without unit', makeCsv('time,x_g', (i) => `${i},1`), /column "time"/],
    ['no time', makeCsv('x_g,y_g', () => '0,1'), /no time column and no line "sample_rate_hz/],
    ['two times', makeCsv('time_s,t_ms,x_g', (i) => `${i},${i},1`), /2 time columns/],
    ['time alone', makeCsv('time_s', (i) => `${i / 1000}`), /no column of accelerations/],
    ['mixed kinds', makeCsv('time_s,x_g,y_fs', (i) => `${i / 1000},1,1`), /full scale beside/],
    [
      'a gap',
      makeCsv('time_s,x_g', (i) => `${(i < 12 ? i : i + 3) / 1000},1`),
      /row 14: the time step is 0\.00400/,
    ],
    [
      'time going back',
      makeCsv('time_s,x_g', (i) => `${(i === 9 ? 7 : i) / 1000},1`),
      /row 11: the time step/,
    ],
    ['time standing still', makeCsv('time_s,x_g', () => '1,1'), /row 3: the time step is 0/],
    [
      'jitter of 1 %',
      makeCsv('time_s,x_g', (i) => `${(i + (i % 2) * 0.01) / 1000},1`),
      /alike within 0\.1 %/,
    ],
    [
      'two rates',
      makeCsv('sample_rate_hz,500\ntime_s,x_g', (i) => `${i / 1000},1`),
      /states 500 Hz and the time column steps at 1000/,
    ],
    [
      'text in a cell',
      makeCsv('time_s,x_g', (i) => `${i / 1000},${i === 4 ? 'over' : 1}`),
      /row 6, column "x_g": "over" is not a number/,
    ],
    [
      'an empty cell',
      makeCsv('time_s,x_g', (i) => `${i / 1000},${i === 4 ? '' : 1}`),
      /row 6, column "x_g": ""/,
    ],
    ['a decimal comma', makeCsv('time_s;x_g', (i) => `${i / 1000};1,5`), /"1,5" is not a number/],
    ['NaN', makeCsv('time_s,x_g', (i) => `${i / 1000},NaN`), /"NaN" is not a number/],
    ['too large', makeCsv('time_s,x_g', (i) => `${i / 1000},1e300`), /"1e300" is not a number of at most/],
    [
      'a short row',
      makeCsv('time_s,x_g,y_g', (i) => (i === 2 ? '0.002,1' : `${i / 1000},1,1`)),
      /row 4: 2 cells; the header has 3/,
    ],
    [
      'a bad rate',
      encode(`sample_rate_hz,fast\nx_g\n${'1\n'.repeat(ROWS)}`),
      /column "sample_rate_hz": "fast"/,
    ],
    ['a rate out of range', encode(`sample_rate_hz,3\nx_g\n${'1\n'.repeat(ROWS)}`), /sample rate is 3 Hz/],
    ['few rows', encode('time_s,x_g\n0,1\n0.001,1\n'), /holds 2 samples a channel/],
    ['nothing', encode('\n\n'), /no header row/],
    ['UTF-16', Uint8Array.of(0xff, 0xfe, 0x74, 0), /UTF-16/],
    ['many columns', encode(`time_s${',x_g'.repeat(70)}\n`), /71 columns/],
  ])('refuses %s', (_, bytes, message) => {
    expect(() => readCsv(bytes, 'a.csv')).toThrow(message);
    expect(() => readCsv(bytes, 'a.csv')).toThrow(/^a\.csv/);
  });
});
