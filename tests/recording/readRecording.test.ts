import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FormatError } from '../../core/errors.ts';
import { RECORDING_LIMITS, readRecording } from '../../core/recording/index.ts';
import { makeWav, pcm16, plainFormat } from './makeWav.ts';

const encode = (text: string) => new TextEncoder().encode(text);
const wav = makeWav([
  { id: 'LIST', bytes: new Uint8Array(9), padded: true },
  plainFormat({ channelCount: 2, extensionBytes: 22 }),
  { id: 'data', bytes: pcm16(Array.from({ length: 80 }, (_, i) => i * 100)) },
  { id: 'bext', bytes: new Uint8Array(11) },
]);
const csv = encode(
  `# made\ntime_s,x_g,y_g\n${Array.from({ length: 30 }, (_, i) => `${(i / 1000).toFixed(3)},${i},${-i}`).join('\n')}\n`,
);

const uff = encode(
  [
    '    -1\n    58\nmade\nNONE\nNONE\nNONE\nNONE',
    '    1         0    0         0 NONE               0   0 NONE               0   0',
    '         2        18         1  0.00000E+00  1.00000E-03  0.00000E+00',
    '        17    0    0    0 time                 s                   ',
    '        12    0    0    0 x                    m/s2                ',
    ...new Array<string>(2).fill('         0    0    0    0 NONE                 NONE                '),
    ...new Array<string>(3).fill(
      '  1.00000E+00 -2.00000E+00  3.00000E+00  1.00000E+00 -2.00000E+00  3.00000E+00',
    ),
    '    -1\n',
  ].join('\n'),
);

describe('readRecording', () => {
  test('tells files apart by what is in them', () => {
    expect(readRecording(wav, 'a.csv')).toMatchObject({ unit: 'full scale', frames: 40 });
    expect(readRecording(csv, 'a.wav')).toMatchObject({ unit: 'm/s2', frames: 30 });
    expect(readRecording(uff, 'a.wav')).toMatchObject({ unit: 'm/s2', frames: 18, sampleRateHz: 1000 });
  });

  test.each([
    ['nothing', new Uint8Array(0), /a is empty/],
    ['a picture', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0, 0), /neither WAV, UFF nor text/],
    ['the start of a universal file', encode('    -1\n    58\n'), /line 2: the file ends within a header/],
    ['RF64 without a chunk', makeWav([], { container: 'RF64' }), /chunk "fmt " is missing/],
    ['the start of a WAV', wav.subarray(0, 10), /a: the file has 10 bytes .*12 bytes or more/],
    ['prose', encode('Dear all,\nthe recorder broke.\n'), /names no unit/],
  ])('refuses %s', (_, bytes, message) => {
    expect(() => readRecording(bytes, 'a')).toThrow(message);
  });

  test('says of prose that is named as a WAV that it is none', () => {
    const prose = encode('this is not a wav\n');
    expect(() => readRecording(prose, 'a.WAV')).toThrow(
      /a\.WAV is no WAV file, though it is named so: it holds text/,
    );
    expect(() => readRecording(prose, 'a.csv')).toThrow(/names no unit/);
  });

  test('refuses a file beyond the limit before looking into it', () => {
    const huge = { length: RECORDING_LIMITS.largestFileBytes + 1 } as Uint8Array;
    expect(() => readRecording(huge, 'a')).toThrow(/at most 1073741824 are read/);
  });

  /**
   * Any spoiled file is either read, with every sample finite and every channel whole, or refused with a
   * typed error.
   */
  function expectReadOrRefused(bytes: Uint8Array): void {
    try {
      const recording = readRecording(bytes, 'spoiled');
      for (const samples of recording.channels) {
        expect(samples).toHaveLength(recording.frames);
        expect(samples.every((value) => Number.isFinite(value))).toBe(true);
      }
    } catch (error) {
      expect(error).toBeInstanceOf(FormatError);
      expect((error as FormatError).message).toMatch(/^spoiled/);
      expect((error as FormatError).hint).not.toBe('');
    }
  }

  test.each([
    ['WAV', wav],
    ['CSV', csv],
    ['UFF', uff],
  ])('no spoiled %s crashes or hangs', (_, sound) => {
    const edit = fc.record({ at: fc.nat(sound.length - 1), value: fc.nat(255) });
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 12 }), fc.nat(sound.length), (edits, length) => {
        const spoiled = sound.slice();
        for (const { at, value } of edits) spoiled[at] = value;
        expectReadOrRefused(spoiled);
        expectReadOrRefused(spoiled.subarray(0, length));
        expectReadOrRefused(spoiled.subarray(length));
      }),
      { seed: 20, numRuns: 400 },
    );
  });

  test('no bytes at all crash or hang', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.boolean(), (bytes, asWav) => {
        expectReadOrRefused(asWav ? Buffer.concat([wav.subarray(0, 12), bytes]) : bytes);
      }),
      { seed: 21, numRuns: 400 },
    );
  });
});
