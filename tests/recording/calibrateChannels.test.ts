import { describe, expect, test } from 'vitest';
import { InputError } from '../../core/errors.ts';
import { calibrateChannels, type Recording, type RecordingEntry } from '../../core/recording/index.ts';

const integer: Recording = {
  sampleRateHz: 1000,
  channels: [Float64Array.of(0.5, -1), Float64Array.of(0.1, 0.2), Float64Array.of(0, 0.25)],
  unit: 'full scale',
  frames: 2,
  coding: 'integer',
  warnings: [{ code: 'wav.riff-size', message: '' }],
};

function makeEntry(channels: RecordingEntry['channels']): RecordingEntry {
  return { file: 'a.wav', exciter: 'hand', channels };
}

describe('calibrateChannels', () => {
  test('picks channels in the order of the visit and scales them', () => {
    const entry = makeEntry([
      { index: 2, azimuthDeg: 90, fullScaleMPerS2: 100, heightM: 1.5, cornerHz: 0.2 },
      { index: 0, azimuthDeg: 0, fullScaleMPerS2: 50 },
    ]);
    const calibrated = calibrateChannels(integer, entry, 'a.wav');
    expect(calibrated).toMatchObject({
      sampleRateHz: 1000,
      frames: 2,
      exciter: 'hand',
      warnings: integer.warnings,
    });
    expect(calibrated.channels).toEqual([
      {
        index: 2,
        samplesMPerS2: Float64Array.of(0, 25),
        fullScaleMPerS2: 100,
        azimuthDeg: 90,
        heightM: 1.5,
        cornerHz: 0.2,
      },
      {
        index: 0,
        samplesMPerS2: Float64Array.of(25, -50),
        fullScaleMPerS2: 50,
        azimuthDeg: 0,
        heightM: null,
        cornerHz: null,
      },
    ]);
    expect(integer.channels[0]).toEqual(Float64Array.of(0.5, -1));
  });

  test('hands on the exponential window that lies over a recording', () => {
    const entry = makeEntry([{ index: 0, azimuthDeg: 0, fullScaleMPerS2: 50 }]);
    expect(calibrateChannels(integer, entry, 'a.wav')).not.toHaveProperty('exponentialWindowS');
    const windowed = calibrateChannels(integer, { ...entry, exponentialWindowS: 2.5 }, 'a.wav');
    expect(windowed.exponentialWindowS).toBe(2.5);
  });

  test('samples in m/s2 are left as they are; a full scale is kept for the check of clipping', () => {
    const recording: Recording = { ...integer, unit: 'm/s2', coding: 'text' };
    const entry = makeEntry([{ index: 0, azimuthDeg: 0, fullScaleMPerS2: 100 }]);
    const [channel] = calibrateChannels(recording, entry, 'a.csv').channels;
    expect(channel!.samplesMPerS2).toEqual(Float64Array.of(0.5, -1));
    expect(channel!.fullScaleMPerS2).toBe(100);
  });

  test('floating-point samples without a full scale are taken as m/s2, and that is told', () => {
    const calibrated = calibrateChannels(
      { ...integer, coding: 'float' },
      makeEntry([{ index: 0, azimuthDeg: 0 }]),
      'a.wav',
    );
    expect(calibrated.channels[0]!.samplesMPerS2).toEqual(Float64Array.of(0.5, -1));
    expect(calibrated.warnings.map((warning) => warning.code)).toEqual([
      'wav.riff-size',
      'recording.float-unit',
    ]);
  });

  test.each<[string, RecordingEntry['channels'], RegExp]>([
    [
      'no full scale',
      [{ index: 0, azimuthDeg: 0 }],
      /a\.wav, field recordings\.channels\[0\]\.fullScaleMPerS2: nothing received/,
    ],
    [
      'a channel that is not there',
      [{ index: 3, azimuthDeg: 0, fullScaleMPerS2: 1 }],
      /channel 3 is not in the file, which has 3/,
    ],
    [
      'a channel named twice',
      [
        { index: 1, azimuthDeg: 0, fullScaleMPerS2: 1 },
        { index: 1, azimuthDeg: 90, fullScaleMPerS2: 1 },
      ],
      /channels\[1\]\.index: channel 1 is named twice/,
    ],
  ])('refuses %s', (_, channels, message) => {
    expect(() => calibrateChannels(integer, makeEntry(channels), 'a.wav')).toThrow(message);
    expect(() => calibrateChannels(integer, makeEntry(channels), 'a.wav')).toThrow(InputError);
  });
});
