import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CallName, callService, contract } from '../../core/workspace/index.ts';
import { roundForTransport } from '../../core/workspace/roundForTransport.ts';
import { viewSpectrogram } from '../../core/workspace/viewSpectrogram.ts';
import { viewSpectrum } from '../../core/workspace/viewSpectrum.ts';
import { viewWaveform } from '../../core/workspace/viewWaveform.ts';
import { AXES, BLOW_S, DURATION_S, makeWorkspace, RATE_HZ } from './visitFixture.ts';

const AMPLITUDE_MPERS2 = 3;
const STEADY_HZ = 6.25;

/** A steady sine on one channel, at the middle of a bin of every window used here. */
function makeSteady(seconds = 64) {
  const samplesMPerS2 = Float64Array.from(
    { length: RATE_HZ * seconds },
    (_, i) => AMPLITUDE_MPERS2 * Math.sin((2 * Math.PI * STEADY_HZ * i) / RATE_HZ),
  );
  const channel = {
    index: 0,
    samplesMPerS2,
    fullScaleMPerS2: 98.1,
    azimuthDeg: 45,
    heightM: null,
    cornerHz: null,
  };
  return {
    fileName: 'steady.wav',
    sampleRateHz: RATE_HZ,
    frames: samplesMPerS2.length,
    exciter: 'unknown' as const,
    channels: [channel],
    warnings: [],
  };
}

function indexOfLargest(values: readonly number[]): number {
  return values.indexOf(Math.max(...values));
}

describe('roundForTransport', () => {
  it('gives the number that six digits write', () => {
    const number = fc
      .tuple(fc.double({ min: 1, max: 10, noNaN: true }), fc.integer({ min: -30, max: 30 }), fc.boolean())
      .map(([digits, power, isBelow]) => (isBelow ? -digits : digits) * 10 ** power);
    fc.assert(
      fc.property(number, (value) => {
        const written = Number(value.toPrecision(6));
        // half-way between two of six digits either is right
        expect(Math.abs(roundForTransport(value) - written)).toBeLessThanOrEqual(1.01e-5 * Math.abs(value));
        expect(Number(roundForTransport(value).toPrecision(6))).toBe(roundForTransport(value));
      }),
    );
    const exact = [0, 1, -2.5, 123456, 1234567, 0.000123456789, 9.99999951, 1e-20, Number.NaN, Infinity];
    expect(exact.map(roundForTransport)).toEqual([0, 1, -2.5, 123456, 1234570, 0.000123457, 10, 1e-20, 0, 0]);
  });
});

describe('viewWaveform', () => {
  it('loses no peak, however few its columns', () => {
    const recording = makeSteady();
    recording.channels[0]!.samplesMPerS2[1234] = 55;
    recording.channels[0]!.samplesMPerS2[4321] = -66;
    const { channels, timesS } = viewWaveform(recording, { columns: 16 });
    const { low, high } = channels[0]!;
    expect([timesS.length, low.length, high.length]).toEqual([16, 16, 16]);
    expect(Math.max(...high)).toBe(55);
    expect(indexOfLargest(high)).toBe(Math.floor((1234 / recording.frames) * 16));
    expect(Math.min(...low)).toBe(-66);
    expect(low.every((value, i) => value <= high[i]!)).toBe(true);
  });

  it('shows each sample where there are more columns than samples', () => {
    const recording = makeSteady();
    const { channels, timesS, fromS, toS } = viewWaveform(recording, { fromS: 1, toS: 1.05, columns: 100 });
    expect([fromS, toS]).toEqual([1, 1.05]);
    expect(timesS).toEqual(Array.from({ length: 10 }, (_, i) => expect.closeTo(1 + i / RATE_HZ, 5)));
    expect(channels[0]!.low).toEqual(channels[0]!.high);
    expect(channels[0]!.low[3]).toBeCloseTo(recording.channels[0]!.samplesMPerS2[203]!, 4);
  });

  it('cuts a stretch to what is there', () => {
    const recording = makeSteady(4);
    expect(viewWaveform(recording, { fromS: 3, toS: 99, columns: 16 })).toMatchObject({ fromS: 3, toS: 4 });
    expect(viewWaveform(recording, { fromS: 50, columns: 16 }).timesS).toHaveLength(1);
  });
});

describe('viewSpectrum', () => {
  it('shows a steady sine with its amplitude at its frequency', () => {
    const view = viewSpectrum(makeSteady(), { stretches: [], kind: 'amplitude', maximumHz: 20 });
    const { values, azimuthDeg } = view.channels[0]!;
    expect(azimuthDeg).toBe(45);
    expect(view.frequenciesHz[indexOfLargest(values)]).toBeCloseTo(STEADY_HZ, 1);
    // A Hann window loses at most 1.42 dB between bins (Harris 1978, table I); zero padding keeps it below 1 %.
    expect(Math.max(...values)).toBeGreaterThan(0.99 * AMPLITUDE_MPERS2);
    expect(Math.max(...values)).toBeLessThan(1.001 * AMPLITUDE_MPERS2);
    expect(view.frequenciesHz.at(-1)).toBeLessThanOrEqual(20);
    expect(view.frequenciesHz.at(-1)).toBeGreaterThan(19.9);
  });

  it('shows a density that sums to the mean square of a sine, half its amplitude squared', () => {
    const { frequenciesHz, channels } = viewSpectrum(makeSteady(), {
      stretches: [],
      kind: 'psd',
      maximumHz: 100,
    });
    const binHz = frequenciesHz[1]! - frequenciesHz[0]!;
    const power = channels[0]!.values.reduce((sum, value) => sum + value * binHz, 0);
    expect(power).toBeCloseTo(AMPLITUDE_MPERS2 ** 2 / 2, 2);
  });

  it('states the noise bandwidth of the window over the length of the record', () => {
    // Harris 1978, table I: 1.50 bins for Hann; a bin is 1 / 64 s.
    expect(viewSpectrum(makeSteady(), { stretches: [], kind: 'amplitude', maximumHz: 20 })).toMatchObject({
      window: 'hann',
      noiseBandwidthHz: expect.closeTo(1.5 / 64, 4),
    });
  });

  it('draws a zoomed range with many lines, and the sine at its frequency', () => {
    const zoom = { fromHz: 6, toHz: 6.5 };
    const view = viewSpectrum(makeSteady(), { stretches: [], kind: 'amplitude', maximumHz: 80, zoom });
    expect(view.frequenciesHz).toHaveLength(1201);
    expect([view.frequenciesHz[0], view.frequenciesHz.at(-1)]).toEqual([6, 6.5]);
    const { values } = view.channels[0]!;
    expect(view.frequenciesHz[indexOfLargest(values)]).toBeCloseTo(STEADY_HZ, 3);
    expect(Math.max(...values)).toBeCloseTo(AMPLITUDE_MPERS2, 3);
  });

  it('shows the mean square of a sine by tapers too, and cuts densities to a range', () => {
    const zoom = { fromHz: 5, toHz: 8 };
    const view = viewSpectrum(makeSteady(), { stretches: [], kind: 'multitaper', maximumHz: 80, zoom });
    expect(view).toMatchObject({ unit: '(m/s2)2/Hz', window: 'sine tapers', strikes: 0 });
    const binHz = view.frequenciesHz[1]! - view.frequenciesHz[0]!;
    expect(view.frequenciesHz[0]).toBeGreaterThanOrEqual(5);
    const power = view.channels[0]!.values.reduce((sum, value) => sum + value * binHz, 0);
    expect(power).toBeCloseTo(AMPLITUDE_MPERS2 ** 2 / 2, 2);
  });

  /** The one blow of the recording that the fixture makes. */
  const BLOW = { startS: BLOW_S, endS: DURATION_S };

  it('combines stretches, each cut to the shortest', async () => {
    const { handlers, visitId } = await makeWorkspace();
    for (const kind of ['amplitude', 'psd', 'multitaper'] as const) {
      const stretches = [BLOW, { startS: BLOW_S + 0.5, endS: DURATION_S }];
      const request = { visitId, recording: 0, stretches, kind };
      const answer = await callService(handlers, 'recording.spectrum', request);
      if (!answer.ok) throw new Error(answer.message);
      const { strikes, frequenciesHz, channels } = contract['recording.spectrum'].response.parse(
        answer.value,
      );
      expect(strikes).toBe(2);
      const at = frequenciesHz[indexOfLargest(channels[0]!.values)]!;
      expect(Math.abs(at - AXES[0].frequencyHz)).toBeLessThan(0.3);
    }
  });

  it('finds the frequency of a blow on each axis, and along turned axes both in both', async () => {
    const { handlers, visitId } = await makeWorkspace();
    const look = async (turnDeg: number) => {
      const request = { visitId, recording: 0, stretches: [BLOW], turnDeg };
      const answer = await callService(handlers, 'recording.spectrum', request);
      if (!answer.ok) throw new Error(answer.message);
      return contract['recording.spectrum'].response.parse(answer.value);
    };
    const { frequenciesHz, channels } = await look(0);
    const bin = (hz: number) => frequenciesHz.findIndex((f) => f >= hz);
    for (const [i, { frequencyHz }] of AXES.entries()) {
      expect(Math.abs(frequenciesHz[indexOfLargest(channels[i]!.values)]! - frequencyHz)).toBeLessThan(0.1);
    }
    const turned = await look(90);
    expect(turned.channels.map(({ azimuthDeg }) => azimuthDeg)).toEqual([90, 180]);
    // a quarter turn: what moved the first axis moves the second, and the other way round
    for (const [i, { frequencyHz }] of AXES.entries()) {
      const at = bin(frequencyHz);
      expect(turned.channels[1 - i]!.values[at]).toBeCloseTo(channels[i]!.values[at]!, 6);
    }
    const half = await look(45);
    const at = bin(AXES[0].frequencyHz);
    // by hand: cos 45° of a motion along the first axis is seen along each of the turned ones
    const share = half.channels[0]!.values[at]! / channels[0]!.values[at]!;
    expect(share).toBeGreaterThan(0.6);
    expect(share).toBeLessThan(0.8);
  });

  it('refuses a stretch or recording that is not there', async () => {
    const { handlers, visitId } = await makeWorkspace();
    const refused = (request: object) => callService(handlers, 'recording.spectrum', { visitId, ...request });
    const beyond = [{ startS: 2 * DURATION_S, endS: 3 * DURATION_S }];
    expect(await refused({ recording: 0, stretches: beyond })).toMatchObject({ code: 'recording.stretch' });
    expect(await refused({ recording: 3 })).toMatchObject({ code: 'recording.unknown' });
  });
});

describe('viewSpectrogram', () => {
  it('shows a steady sine as one line in time, at its level', () => {
    const { timesS, frequenciesHz, values } = viewSpectrogram(makeSteady(), { channel: 0, maximumHz: 20 });
    expect(values).toHaveLength(frequenciesHz.length);
    expect(values.every((row) => row.length === timesS.length)).toBe(true);
    for (const column of [0, timesS.length >> 1, timesS.length - 1]) {
      const spectrum = values.map((row) => row[column]!);
      const peak = indexOfLargest(spectrum);
      const binHz = frequenciesHz[1]!;
      expect(Math.abs(frequenciesHz[peak]! - STEADY_HZ)).toBeLessThanOrEqual(binHz);
      const power = spectrum.reduce((sum, decibels) => sum + binHz * 10 ** (decibels / 10), 0);
      expect(power).toBeCloseTo(AMPLITUDE_MPERS2 ** 2 / 2, 1);
    }
  });

  it('shows the same sine over a logarithmic axis', () => {
    const request = { channel: 0, maximumHz: 80, frequencyScale: 'log' } as const;
    const { timesS, frequenciesHz, values } = viewSpectrogram(makeSteady(), request);
    expect([frequenciesHz[0], frequenciesHz.at(-1)]).toEqual([0.5, 80]);
    expect(values.every((row) => row.length === timesS.length)).toBe(true);
    const peak = indexOfLargest(values.map((row) => row[3]!));
    expect(Math.abs(frequenciesHz[peak]! / STEADY_HZ - 1)).toBeLessThan(0.03);
  });

  it('shows the rest before a blow as weaker than the blow', async () => {
    const { handlers, visitId } = await makeWorkspace();
    const request = { visitId, recording: 0, channel: 0, maximumHz: 10 };
    const answer = await callService(handlers, 'recording.spectrogram', request);
    if (!answer.ok) throw new Error(answer.message);
    const { timesS, values, frequenciesHz } = contract['recording.spectrogram'].response.parse(answer.value);
    const bin = frequenciesHz.findIndex((frequency) => frequency >= AXES[0].frequencyHz);
    const early = values[bin]!.at(-1)!;
    const during = values[bin]![timesS.findIndex((time) => time > BLOW_S + 0.5)]!;
    expect(during - early).toBeGreaterThan(40);
    expect(timesS.at(-1)).toBeLessThan(DURATION_S);
  });

  it('refuses a channel that the visit does not name', async () => {
    const { handlers, visitId } = await makeWorkspace();
    const request = { visitId, recording: 0, channel: 2 };
    expect(await callService(handlers, 'recording.spectrogram' satisfies CallName, request)).toMatchObject({
      code: 'recording.channel',
    });
  });
});
