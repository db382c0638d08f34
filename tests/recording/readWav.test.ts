/**
 * The WAV reader against the package wavefile, an independent decoder and writer, and against headers made by
 * hand with what field recorders get wrong (Microsoft/IBM Multimedia Programming Interface 1.0, 1991;
 * Microsoft WAVEFORMATEXTENSIBLE, 2001).
 */
import { describe, expect, test } from 'vitest';
import { WaveFile } from 'wavefile';
import { buildLowPassTaps, DECIMATION_PASS_SHARE, readWav } from '../../core/recording/index.ts';
import { createNoise } from '../signal/makeStrike.ts';
import { type Chunk, makeDs64, makeWav, pcm16, plainFormat } from './makeWav.ts';

const RAMP = Array.from({ length: 40 }, (_, i) => i * 700 - 14_000);
const ramp: Chunk = { id: 'data', bytes: pcm16(RAMP) };
const mono = plainFormat({});

function expectRamp(bytes: Uint8Array, codes: readonly string[] = []): void {
  const recording = readWav(bytes, 'a.wav');
  expect([...recording.channels[0]!]).toEqual(RAMP.map((value) => value / 32768));
  expect(recording.warnings.map((warning) => warning.code)).toEqual(codes);
}

describe('every coding agrees with wavefile', () => {
  test.each([
    ['8', 2 ** 7],
    ['16', 2 ** 15],
    ['24', 2 ** 23],
    ['32', 2 ** 31],
    ['32f', 1],
    ['64', 1],
  ])('%s bits', (bitDepth, half) => {
    for (const channelCount of [1, 2, 5]) {
      const wanted = Array.from({ length: channelCount }, (_, c) =>
        Float64Array.from({ length: 101 }, (_, i) => {
          const value = Math.sin(0.3 * i + c);
          return half === 1 ? value : Math.round(value * (half - 1)) + (bitDepth === '8' ? 128 : 0);
        }),
      );
      const file = new WaveFile();
      file.fromScratch(channelCount, 2000, bitDepth, channelCount === 1 ? wanted[0]! : wanted);
      const bytes = file.toBuffer();
      const second = new WaveFile(bytes).getSamples(false, Float64Array) as unknown as
        | Float64Array
        | Float64Array[];
      const decoded = channelCount === 1 ? [second as Float64Array] : (second as Float64Array[]);
      const recording = readWav(bytes, 'a.wav');
      expect(recording.sampleRateHz).toBe(2000);
      expect(recording.frames).toBe(101);
      expect(recording.coding).toBe(half === 1 ? 'float' : 'integer');
      expect(recording.warnings).toEqual([]);
      recording.channels.forEach((samples, c) => {
        samples.forEach((value, i) => {
          const raw = decoded[c]![i]! - (bitDepth === '8' ? 128 : 0);
          expect(value).toBe(raw / half);
        });
      });
    }
  });
});

describe('what recorders get wrong', () => {
  test('a sound file has no warnings', () => expectRamp(makeWav([mono, ramp])));

  test.each([0, 1, 0xffffffff])('RIFF size %i', (riffBytes) => {
    expectRamp(makeWav([mono, ramp], { riffBytes }), ['wav.riff-size']);
  });

  test('data cut short: what is there is used', () => {
    const bytes = makeWav([mono, ramp]);
    const recording = readWav(bytes.subarray(0, bytes.length - 21), 'a.wav');
    expect(recording.frames).toBe(29);
    expect(recording.warnings.map((warning) => warning.code)).toEqual([
      'wav.riff-size',
      'wav.cut-short',
      'wav.part-frame',
    ]);
    expect(recording.warnings[1]!.message).toContain('80 bytes and 59 are there');
  });

  test.each([0, 0xffffffff])('data size %i was never written', (statedBytes) => {
    expectRamp(makeWav([mono, { ...ramp, statedBytes }]), ['wav.data-size']);
  });

  test('data size 0 with a chunk behind it is an empty recording', () => {
    const bytes = makeWav([
      mono,
      { id: 'data', bytes: new Uint8Array(0) },
      { id: 'LIST', bytes: new Uint8Array(8) },
    ]);
    expect(() => readWav(bytes, 'a.wav')).toThrow(/a\.wav: holds 0 samples/);
  });

  test.each([true, false])('odd chunks before and after the data, padded: %s', (padded) => {
    const list = { id: 'LIST', bytes: new Uint8Array(7).fill(1), padded };
    const bext = { id: 'bext', bytes: new Uint8Array(603), padded };
    expectRamp(makeWav([list, mono, bext, ramp, list]));
  });

  test('a chunk that claims more than the file holds', () => {
    const list = { id: 'LIST', bytes: new Uint8Array(8), statedBytes: 0x7fffffff };
    expectRamp(makeWav([mono, ramp, list]), ['wav.chunk-size']);
    expect(() => readWav(makeWav([mono, list, ramp]), 'a.wav')).toThrow(/chunk "data" is missing/);
  });

  test('a second data chunk is passed over', () => {
    expectRamp(makeWav([mono, ramp, ramp]), ['wav.second-data']);
  });

  test.each([22, 24, 40])('EXTENSIBLE with an extension of %i bytes', (extensionBytes) => {
    expectRamp(makeWav([plainFormat({ extensionBytes }), ramp]));
  });

  test('valid bits unlike container bits: the standard puts them at the top', () => {
    const shifted = { id: 'data', bytes: pcm16(RAMP.map((value) => (value >> 4) << 4)) };
    const recording = readWav(
      makeWav([plainFormat({ extensionBytes: 22, validBits: 12 }), shifted]),
      'a.wav',
    );
    expect(recording.channels[0]![3]).toBe(((RAMP[3]! >> 4) << 4) / 32768);
    expect(recording.warnings).toEqual([]);
  });

  test('valid bits at the bottom are scaled by what they are', () => {
    const low = { id: 'data', bytes: pcm16(RAMP.map((value) => value >> 4)) };
    const recording = readWav(makeWav([plainFormat({ extensionBytes: 22, validBits: 12 }), low]), 'a.wav');
    expect(recording.channels[0]![3]).toBe((RAMP[3]! >> 4) / 2048);
    expect(recording.warnings.map((warning) => warning.code)).toEqual(['wav.alignment']);
  });
});

describe('what is refused names field and value', () => {
  const floats = (values: number[]) => ({
    id: 'data',
    bytes: new Uint8Array(Float32Array.from(values).buffer),
  });
  const sixteen = new Array(16).fill(0);
  test.each([
    ['ADPCM', makeWav([plainFormat({ tag: 2, bits: 4 }), ramp]), /ADPCM \(format 2\) with 4 bits/],
    ['mu-law', makeWav([plainFormat({ tag: 7, bits: 8 }), ramp]), /mu-law \(format 7\)/],
    ['float of 16 bits', makeWav([plainFormat({ tag: 3 }), ramp]), /float \(format 3\) with 16 bits/],
    [
      'a block that does not fit',
      makeWav([plainFormat({ blockBytes: 4 }), ramp]),
      /block alignment is 4 bytes; 1 channels .* take 2/,
    ],
    ['no channels', makeWav([plainFormat({ channelCount: 0 }), ramp]), /number of channels is 0/],
    ['65 channels', makeWav([plainFormat({ channelCount: 65 }), ramp]), /number of channels is 65; 1 to 64/],
    ['a rate of 0', makeWav([plainFormat({ sampleRateHz: 0 }), ramp]), /sample rate is 0 Hz/],
    ['a short fmt', makeWav([{ id: 'fmt ', bytes: new Uint8Array(14) }, ramp]), /"fmt " has 14 bytes/],
    ['no fmt', makeWav([ramp]), /"fmt " is missing/],
    ['a short EXTENSIBLE', makeWav([plainFormat({ tag: 0xfffe }), ramp]), /EXTENSIBLE has 16 bytes; 40/],
    ['RIFX', makeWav([mono, ramp], { container: 'RIFX' }), /big-endian/],
    ['another form', makeWav([mono, ramp], { form: 'AVI ' }), /form is "AVI "/],
    [
      'NaN',
      makeWav([
        plainFormat({ tag: 3, bits: 32, channelCount: 2 }),
        floats([...sixteen, ...sixteen, 0, Number.NaN]),
      ]),
      /channel 1, sample 16 is NaN/,
    ],
    [
      'Infinity',
      makeWav([plainFormat({ tag: 3, bits: 32 }), floats([...sixteen, Number.NEGATIVE_INFINITY])]),
      /channel 0, sample 16 is -Infinity/,
    ],
    [
      '1e30',
      makeWav([plainFormat({ tag: 3, bits: 32 }), floats([1e30, ...sixteen])]),
      /channel 0, sample 0 is 1\.0+\d+e\+30|channel 0, sample 0 is 1e\+30|channel 0, sample 0 is 1\.00000001/,
    ],
  ])('%s', (_, bytes, message) => {
    expect(() => readWav(bytes, 'a.wav')).toThrow(message);
    expect(() => readWav(bytes, 'a.wav')).toThrow(/^a\.wav/);
  });
});

describe('RF64 and BW64', () => {
  const UNKNOWN = 0xffffffff;
  const data = { ...ramp, statedBytes: UNKNOWN };

  test.each(['RF64', 'BW64'])(
    '%s: sizes come from ds64, and what follows the data is no sample',
    (container) => {
      const chunks = [makeDs64(80), mono, data, { id: 'axml', bytes: new Uint8Array(10) }];
      const bytes = makeWav(chunks, { container, riffBytes: UNKNOWN });
      const codes = readWav(bytes, 'a').warnings.map(({ code }) => code);
      expect(readWav(bytes, 'a').channels[0]).toEqual(Float64Array.from(RAMP, (value) => value / 32768));
      // 72 bytes are 4 of the form, 36 of ds64, 24 of fmt and 8 of the head of data; axml takes 18 more.
      expect(codes).toEqual(['wav.riff-size']);
      expect(readWav(makeWav(chunks.slice(0, 3), { container, riffBytes: UNKNOWN }), 'a').warnings).toEqual(
        [],
      );
    },
  );

  test('other chunks beyond 32 bits come from the table; sizes that are stated count', () => {
    const note = { id: 'LIST', bytes: new Uint8Array(12), statedBytes: UNKNOWN };
    const ds64 = makeDs64(80, [{ id: 'LIST', size: 12 }]);
    expectRampIn(makeWav([ds64, mono, note, data], { container: 'RF64', riffBytes: UNKNOWN }));
    expectRampIn(makeWav([makeDs64(7), mono, ramp], { container: 'RF64', riffBytes: UNKNOWN }));
  });

  test('cut short or without ds64, what is there is used, with a warning', () => {
    const cut = makeWav([makeDs64(2 ** 33), mono, data], { container: 'RF64', riffBytes: UNKNOWN });
    expectRampIn(cut);
    expect(readWav(cut, 'a').warnings.map(({ code }) => code)).toContain('wav.cut-short');
    const bare = makeWav([mono, data], { container: 'RF64', riffBytes: UNKNOWN });
    expectRampIn(bare);
    expect(readWav(bare, 'a').warnings.map(({ code }) => code)).toContain('wav.data-size');
  });

  function expectRampIn(bytes: Uint8Array): void {
    expect([...readWav(bytes, 'a').channels[0]!]).toEqual(RAMP.map((value) => value / 32768));
  }
});

describe('recorders for sound', () => {
  const RATE = 48_000;
  const makeTone = (frequencyHz: number, peak: number, count = RATE) =>
    makeWav([
      plainFormat({ sampleRateHz: RATE, channelCount: 2 }),
      {
        id: 'data',
        bytes: pcm16(
          Array.from({ length: 2 * count }, (_, i) =>
            Math.round(peak * Math.sin((2 * Math.PI * frequencyHz * (i >> 1)) / RATE)),
          ),
        ),
      },
    ]);

  test('are read at 4 kHz, in place and amplitude up to 1.2 kHz, and say so', () => {
    for (const frequencyHz of [1, 27, 1200]) {
      const recording = readWav(makeTone(frequencyHz, 16_384), 'a');
      expect(recording).toMatchObject({ sampleRateHz: 4000, frames: 4000 });
      expect(recording.warnings.map(({ code }) => code)).toEqual(['wav.lowered-rate']);
      const inner = recording.channels[1]!.subarray(20, -20);
      const off = inner.map((v, i) =>
        Math.abs(v - 0.5 * Math.sin((2 * Math.PI * frequencyHz * (i + 20)) / 4000)),
      );
      expect(Math.max(...off)).toBeLessThan(frequencyHz > 100 ? 0.005 : 1e-4);
    }
  });

  test('lose what would fold, and keep the extremes of it', () => {
    const { channels, extremes } = readWav(makeTone(3300, 32_000), 'a');
    expect(Math.max(...channels[0]!.subarray(20, -20))).toBeLessThan(0.01);
    expect(Math.max(...extremes![0]!)).toBeCloseTo(32_000 / 32_768, 3);
  });

  test('in blocks or whole, the same comes out', () => {
    // Longer than three blocks; the filter at full length, by its definition, at samples on both sides of a seam.
    const noise = createNoise(50_000, 3);
    const values = Array.from(noise, (value) => Math.round(5000 * value));
    const bytes = makeWav([plainFormat({ sampleRateHz: RATE }), { id: 'data', bytes: pcm16(values) }]);
    const samples = readWav(bytes, 'a').channels[0]!;
    const taps = buildLowPassTaps(DECIMATION_PASS_SHARE / 12);
    for (const i of [0, 3, 1364, 1365, 1366, 2729, 2730, 2731, 4166]) {
      let wanted = 0;
      taps.forEach((tap, j) => {
        const at = Math.min(Math.max(12 * i + j - (taps.length >> 1), 0), values.length - 1);
        wanted += (tap * values[at]!) / 32_768;
      });
      expect(samples[i]).toBeCloseTo(wanted, 12);
    }
  });

  test('too short a record is refused', () => {
    expect(() => readWav(makeTone(100, 1000, 100), 'a')).toThrow(/holds 9 samples/);
  });
});
