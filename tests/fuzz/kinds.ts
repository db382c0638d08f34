import fc from 'fast-check';
import { calibrateChannels, readRecording, type VisitFile } from '../../core/recording/index.ts';
import { decodeVisitFile } from '../../core/workspace/batch.ts';
import { createRandomStream, type RandomStream } from '../../samples/random.ts';
import { makeDs64, makeWav, pcm16, plainFormat } from '../recording/makeWav.ts';
import { visit } from '../report/fixture.ts';
import { mutateBytes, pick } from './mutateBytes.ts';
import { mutateVisit } from './mutateVisit.ts';
import { makeWorkspaceCase, openWorkspaceCase } from './workspaceCase.ts';

/** One kind of file: how a case is made from its seed, and what is done with it. */
export type FuzzKind = {
  /** Cases of a whole run. */
  readonly count: number;
  make(seed: string): Uint8Array | Promise<Uint8Array>;
  /** Reads the bytes as the program does; throws a StemrootError or returns. Anything else is a find. */
  read(bytes: Uint8Array): unknown;
};

export type KindName = 'wav' | 'csv' | 'visit' | 'workspace';

const ENTRY: VisitFile['recordings'][number] = {
  file: 'fuzz',
  exciter: 'hammer',
  channels: [
    { index: 0, azimuthDeg: 0, fullScaleMPerS2: 98.1 },
    { index: 1, azimuthDeg: 90, fullScaleMPerS2: 98.1 },
  ],
};

function readAsRecording(bytes: Uint8Array): void {
  calibrateChannels(readRecording(bytes, 'fuzz'), ENTRY, 'fuzz');
}

export const kinds: Readonly<Record<KindName, FuzzKind>> = {
  wav: {
    count: 50_000,
    make: (seed) => {
      const random = createRandomStream(seed);
      return mutateBytes(makeSoundWav(random), random);
    },
    read: readAsRecording,
  },
  csv: {
    count: 20_000,
    make: (seed) => {
      const random = createRandomStream(seed);
      return mutateBytes(Buffer.from(makeSoundCsv(random)), random);
    },
    read: readAsRecording,
  },
  visit: {
    count: 20_000,
    make: (seed) => {
      const random = createRandomStream(seed);
      const shape = random.between(0, 1);
      if (shape < 0.4) return mutateBytes(Buffer.from(JSON.stringify(visit)), random);
      if (shape < 0.95) return Buffer.from(mutateVisit(visit, random));
      // any JSON at all
      const [text] = fc.sample(fc.json({ maxDepth: 6 }), {
        seed: Math.floor(random.between(0, 2 ** 31)),
        numRuns: 1,
      });
      return Buffer.from(text!);
    },
    read: (bytes) => decodeVisitFile(bytes, 'fuzz'),
  },
  workspace: { count: 5000, make: makeWorkspaceCase, read: openWorkspaceCase },
};

/** A WAV file in one of the forms that recorders write, some hundred frames long. */
function makeSoundWav(random: RandomStream): Uint8Array {
  const channelCount = pick([1, 2, 2, 2, 3, 8], random);
  const bits = pick([8, 16, 24, 32, 64], random);
  const tag = bits === 64 || (bits === 32 && random.between(0, 1) < 0.5) ? 3 : 1;
  const frames = Math.floor(random.between(1, 400));
  const bytes = Buffer.alloc(frames * channelCount * (bits / 8));
  for (let i = 0; i < bytes.length; i++) bytes[i] = random.between(0, 256);
  const data = { id: 'data', bytes: bits === 16 ? pcm16(toSteps(bytes)) : bytes };
  const sampleRateHz = pick([200, 2000, 8000, 48_000, 192_000], random);
  const format = plainFormat({
    tag,
    channelCount,
    sampleRateHz,
    bits,
    ...(random.between(0, 1) < 0.3 && { extensionBytes: pick([22, 24, 40], random) }),
  });
  const list = {
    id: pick(['LIST', 'bext', 'fact', 'junk'], random),
    bytes: new Uint8Array(Math.floor(random.between(0, 60))),
  };
  const chunks =
    random.between(0, 1) < 0.5
      ? [format, data]
      : pick(
          [
            [list, format, data],
            [format, list, data],
            [format, data, list],
          ],
          random,
        );
  if (random.between(0, 1) < 0.2) {
    return makeWav([makeDs64(data.bytes.length), ...chunks], {
      container: pick(['RF64', 'BW64'], random),
      riffBytes: 0xffffffff,
    });
  }
  return makeWav(chunks, { container: pick(['RIFF', 'RIFF', 'RIFX'], random) });
}

function toSteps(bytes: Uint8Array): number[] {
  const steps: number[] = [];
  for (let i = 0; i + 1 < bytes.length; i += 2) steps.push(((bytes[i]! << 24) | (bytes[i + 1]! << 16)) >> 16);
  return steps;
}

const HEADS = [
  'time [s],a [m/s2],b [m/s2]',
  'Time (ms);X (g);Y (g)',
  'sample_rate_hz,200\ntime [s],a [m/s2],b [m/s2]',
  'time [s]\tx [g]\ty [g]',
  '"time [s]","a ""quoted"" [m/s2]","b [m/s2]"',
];

/** A CSV recording in one of the forms that recorders write. */
function makeSoundCsv(random: RandomStream): string {
  const head = pick(HEADS, random);
  const separator = /[;\t]/.exec(head)?.[0] ?? ',';
  const rows = Array.from({ length: Math.floor(random.between(1, 200)) }, (_, i) => {
    const values = [i / 200, random.normal(), random.normal()];
    return values.map((value) => value.toPrecision(pick([3, 6, 17], random))).join(separator);
  });
  return [head, ...rows].join(pick(['\n', '\r\n'], random));
}
