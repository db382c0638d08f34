/**
 * A ten-minute recording of eight channels at 48 kHz and 24 bits through reading, calibration, strikes and
 * checks, with the most memory that the program held. The file (690 MB) is made in a temporary folder and
 * removed. Run: node bench/longRecording.ts
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { calibrateChannels, type RecordingEntry, readRecording } from '../core/recording/index.ts';
import { judgeVisit } from '../core/signal/index.ts';
import { makeWav, plainFormat } from '../tests/recording/makeWav.ts';
import { createNoise, POLE_MODES, ringPole } from '../tests/signal/makeStrike.ts';

const SAMPLE_RATE_HZ = 48_000;
const DURATION_S = 600;
const CHANNELS = 8;
const FULL_SCALE_M_PER_S2 = 98.1;
const STRIKE_EVERY_S = 30;
const GOAL_MIB = 1536;
const HALF_RANGE = 2 ** 23;

/** Writes half a minute with one blow over and over. */
function writeRecording(path: string): void {
  const frames = STRIKE_EVERY_S * SAMPLE_RATE_HZ;
  const clean = ringPole(
    POLE_MODES,
    [{ startS: 2, contactS: 0.005, force: 2000 }],
    SAMPLE_RATE_HZ,
    STRIKE_EVERY_S,
  );
  const noise = createNoise(frames, 1);
  const bytes = Buffer.alloc(frames * CHANNELS * 3);
  for (let i = 0, at = 0; i < frames; i++) {
    for (let c = 0; c < CHANNELS; c++, at += 3) {
      const value =
        ((1 - 0.08 * c) * clean[i]! + 0.002 * noise[(i + 1000 * c) % frames]!) / FULL_SCALE_M_PER_S2;
      bytes.writeIntLE(Math.round(value * (HALF_RANGE - 1)), at, 3);
    }
  }
  const times = DURATION_S / STRIKE_EVERY_S;
  const format = plainFormat({ channelCount: CHANNELS, sampleRateHz: SAMPLE_RATE_HZ, bits: 24 });
  const head = makeWav(
    [format, { id: 'data', bytes: new Uint8Array(0), statedBytes: times * bytes.length }],
    {
      riffBytes: times * bytes.length + 36,
    },
  );
  const file = openSync(path, 'w');
  writeSync(file, head);
  for (let k = 0; k < times; k++) writeSync(file, bytes);
}

function judgeRecording(path: string): void {
  const entry: RecordingEntry = {
    file: 'long.wav',
    exciter: 'hammer',
    channels: Array.from({ length: CHANNELS }, (_, index) => ({
      index,
      azimuthDeg: 90 * (index % 2),
      heightM: 1 + (index >> 1),
      fullScaleMPerS2: FULL_SCALE_M_PER_S2,
      cornerHz: 0.2,
    })),
  };
  const started = performance.now();
  const lap = (name: string) =>
    console.log(`  ${name}: after ${((performance.now() - started) / 1000).toFixed(1)} s`);
  const recording = readRecording(readFileSync(path), entry.file);
  lap('read');
  const calibrated = calibrateChannels(recording, entry, entry.file);
  lap('calibrated');
  const { recordings } = judgeVisit([calibrated]);
  lap(`${recordings[0]!.strikes.length} strikes found and judged`);
  const mostMib = process.resourceUsage().maxRSS / 1024;
  console.log(
    `  most memory held: ${mostMib.toFixed(0)} MiB of ${GOAL_MIB}: ${mostMib <= GOAL_MIB ? 'met' : 'NOT MET'}`,
  );
}

const [, program, given] = process.argv;
if (given !== undefined) {
  judgeRecording(given);
} else {
  const folder = mkdtempSync(join(tmpdir(), 'long-recording-'));
  try {
    const path = join(folder, 'long.wav');
    writeRecording(path);
    console.log(`${DURATION_S} s of ${CHANNELS} channels at ${SAMPLE_RATE_HZ} Hz, 24 bits`);
    // A process of its own, so that the making of the file does not count.
    spawnSync(process.execPath, [fileURLToPath(new URL(`file://${program}`)), path], { stdio: 'inherit' });
  } finally {
    rmSync(folder, { recursive: true });
  }
}
