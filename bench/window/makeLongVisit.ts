import { type Desk, importVisit, openDesk } from '../../core/workspace/index.ts';
import { makeWav, plainFormat } from '../../tests/recording/makeWav.ts';
import { visit as wholeVisit } from '../../tests/report/fixture.ts';
import { createNoise, POLE_MODES, ringPole } from '../../tests/signal/makeStrike.ts';

const SAMPLE_RATE_HZ = 48_000;
const DURATION_S = 60;
const CHANNELS = 2;
const FULL_SCALE_M_PER_S2 = 98.1;
const HALF_RANGE = 2 ** 23;
/** Blows of unlike strength, a ring-down apart. */
const BLOWS = [2, 17, 32, 47].map((startS, i) => ({ startS, contactS: 0.005, force: 2000 - 200 * i }));

/** A minute of two channels at 48 kHz and 24 bits with four blows. */
function makeRecording(): Uint8Array {
  const frames = DURATION_S * SAMPLE_RATE_HZ;
  const clean = ringPole(POLE_MODES, BLOWS, SAMPLE_RATE_HZ, DURATION_S);
  const noise = createNoise(frames, 1);
  const bytes = Buffer.alloc(frames * CHANNELS * 3);
  for (let i = 0, at = 0; i < frames; i++) {
    for (let c = 0; c < CHANNELS; c++, at += 3) {
      const value =
        ((1 - 0.1 * c) * clean[i]! + 0.002 * noise[(i + 1000 * c) % frames]!) / FULL_SCALE_M_PER_S2;
      bytes.writeIntLE(Math.round(Math.max(-1, Math.min(value, 1)) * (HALF_RANGE - 1)), at, 3);
    }
  }
  const format = plainFormat({ channelCount: CHANNELS, sampleRateHz: SAMPLE_RATE_HZ, bits: 24 });
  return makeWav([format, { id: 'data', bytes }]);
}

/** Brings an invented visit with one long recording into a workspace, assessed. @returns its identity */
export async function makeLongVisit(path: string, poleId: string): Promise<number> {
  const desk: Desk = await openDesk(path, { create: true, threads: 1 });
  try {
    const file = {
      ...wholeVisit,
      pole: { ...wholeVisit.pole, id: poleId },
      recordings: [
        {
          file: 'long.wav',
          exciter: 'hammer' as const,
          channels: [0, 1].map((index) => ({
            index,
            azimuthDeg: 90 * index,
            fullScaleMPerS2: FULL_SCALE_M_PER_S2,
            cornerHz: 0.2,
          })),
        },
      ],
    };
    const outcome = await importVisit(desk.store, {
      fileName: `${poleId}.visit.json`,
      readVisitFile: () => Buffer.from(JSON.stringify(file)),
      readRecordingFile: () => makeRecording(),
    });
    const visitId = outcome.visitId!;
    await desk.answer('visit.assess', { visitId, decisions: [] });
    return visitId;
  } finally {
    await desk.close();
  }
}
