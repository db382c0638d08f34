/**
 * Universal files, dataset 58, against the open data of the package pyuff (MIT; data/uff58_samples/SOURCE.txt): a measured microphone
 * record, ASCII and binary by another writer, and a short record of a data logger. Text files are read here by splitting at blanks, a road
 * of its own; agreement is exact.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readRecording, readUff, writeUff } from '../../core/recording/index.ts';

const load = (name: string) => readFileSync(new URL(`./data/uff58_samples/${name}`, import.meta.url));
const ascii = load('Sample_UFF58_ascii.uff');
const binary = load('Sample_UFF58b_bin.uff');

const logger = load('time-history-not-all-columns-filled.uff');

const HEADER_LINES = 13;
const splitSamples = (file: Buffer) =>
  file
    .toString('latin1')
    .split('\n')
    .slice(HEADER_LINES, -2)
    .flatMap((line) => line.trim().split(/\s+/).map(Number));
const wanted = splitSamples(ascii);

describe('a measured record as dataset 58', () => {
  test('ASCII is read to the last sample', () => {
    const [dataset, ...rest] = readUff(ascii, 'ascii').datasets;
    expect(rest).toEqual([]);
    expect(dataset).toMatchObject({
      idLines: ['Mic 01.0Scalar', 'NONE', '18-Apr-16 13:49:58', 'NONE', 'NONE'],
      functionKind: 1,
      response: { entity: 'Mic 01', node: 0, direction: 1 },
      reference: { entity: 'NONE', node: 0, direction: 0 },
      ordinateForm: 'real single',
      abscissaStart: 0,
      abscissaStep: 1.52588e-5,
      abscissa: { kind: 17, label: 'time', unit: 's' },
      ordinate: { kind: 21, label: 'Pressure', unit: 'Pa' },
    });
    expect(wanted).toHaveLength(79292);
    expect([...dataset!.values]).toEqual(wanted);
    const peak = dataset!.values.reduce(
      (at, value, i, all) => (Math.abs(value) > Math.abs(all[at]!) ? i : at),
      0,
    );
    // As SOURCE.txt says: 0.1413 Pa at 0.6516 s.
    expect(Math.abs(dataset!.values[peak]!)).toBeCloseTo(0.1413, 4);
    expect(peak * dataset!.abscissaStep).toBeCloseTo(0.6516, 3);
  });

  test('binary holds the same record, to the digits that the text prints', () => {
    const { values, ...header } = readUff(binary, 'binary').datasets[0]!;
    const { values: _, ...textHeader } = readUff(ascii, 'ascii').datasets[0]!;
    expect(header).toEqual(textHeader);
    // The text has half a unit of its sixth digit, the binary form a rounding of 2^-24 of its own.
    const beyond = wanted.filter((value, i) => {
      const halfDigit = 0.5e-5 * 10 ** Math.floor(Math.log10(Math.abs(value)));
      return Math.abs(values[i]! - value) > halfDigit + 2 ** -24 * Math.abs(value);
    });
    expect(beyond).toEqual([]);
  });

  test('both are written back without a byte changed', () => {
    const text = writeUff(readUff(ascii, 'ascii').datasets, { form: 'ascii' });
    expect(Buffer.compare(text, ascii)).toBe(0);
    const bytes = writeUff(readUff(binary, 'binary').datasets, { form: 'binary', lineEnd: '\r\n' });
    expect(Buffer.compare(bytes, binary)).toBe(0);
  });

  test("a data logger's record is read to the last sample and written back but for blanks and digits of exponents", () => {
    // The samples are those of the original file, of which SOURCE.txt says one line of the header was changed.
    const lines = logger.toString('latin1').split('\n');
    const samples = Buffer.from(`${lines.slice(HEADER_LINES, -2).join('\n')}\n`, 'latin1');
    expect(createHash('sha256').update(samples).digest('hex')).toBe(
      'a3aba2cf9fe6822528e28eb62dd4e12df9e0b667aef789ab9aa62f1d2758fefb',
    );
    const { datasets } = readUff(logger, 'logger');
    expect(datasets).toHaveLength(1);
    expect([...datasets[0]!.values]).toEqual(splitSamples(logger));
    expect(datasets[0]!.values).toHaveLength(13);
    // Too few for a recording: there is no ring-down in them.
    expect(() => readRecording(logger, 'logger.uff')).toThrow(/holds 13 samples a channel; at least 16/);
    const normalise = (text: string) =>
      text
        .split('\n')
        .map((line) => line.trimEnd().replaceAll(/ ?(\d\.\d{5}E[+-])0(\d\d)\b/g, '  $1$2'))
        .join('\n');
    const written = Buffer.from(writeUff(datasets, { form: 'ascii' })).toString('utf8');
    expect(normalise(written)).toBe(normalise(logger.toString('utf8')));
  });

  test('a microphone is no accelerometer', () => {
    expect(() => readRecording(ascii, 'mic.uff')).toThrow(/Pressure in Pa.*no time record of acceleration/);
  });
});
