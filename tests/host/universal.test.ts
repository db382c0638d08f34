import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { readRecordings } from '../../core/readRecordings.ts';
import { readRecording } from '../../core/recording/index.ts';
import { runCli } from '../../host/cli.ts';
import { readVisit } from '../../host/visitFiles.ts';
import { makeVisit } from '../../samples/makeVisit.ts';
import { inventPole } from '../../samples/place.ts';
import { STORIES } from '../../samples/stories.ts';

const story = STORIES.find(({ id }) => id === 'KV-0101')!;
const made = makeVisit(inventPole(story), story.visits[0]!);
const folder = mkdtempSync(join(tmpdir(), 'stemroot-universal-'));
const path = join(folder, `${made.name}.visit.json`);

beforeAll(() => {
  writeFileSync(path, JSON.stringify(made.visit));
  for (const { file, bytes } of made.recordings) writeFileSync(join(folder, file), bytes);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(...args: string[]): Promise<{ code: number; out: string; error: string }> {
  const written = { out: '', error: '' };
  const spies = (['stdout', 'stderr'] as const).map((name) =>
    vi.spyOn(process[name], 'write').mockImplementation((text) => {
      written[name === 'stdout' ? 'out' : 'error'] += String(text);
      return true;
    }),
  );
  try {
    return { code: await runCli(['universal', ...args]), ...written };
  } finally {
    for (const spy of spies) spy.mockRestore();
  }
}

describe('universal', () => {
  test.each([
    ['binary', [], 0],
    ['text', ['--text'], 1e-12],
  ] as const)('files as %s hold what was recorded', async (form, options, agreement) => {
    const out = join(folder, form);
    const { code, out: printed } = await run(path, '--out', out, ...options);
    expect(code).toBe(0);
    const files = printed.trim().split('\n');
    const recordings = readRecordings(readVisit(path));
    expect(files).toHaveLength(recordings.length);
    recordings.forEach(({ recording: { channels, sampleRateHz } }, r) => {
      const read = readRecording(readFileSync(files[r]!), files[r]!);
      expect(read.sampleRateHz).toBe(sampleRateHz);
      expect(read.unit).toBe('m/s2');
      expect(read.channels).toHaveLength(channels.length);
      channels.forEach(({ samplesMPerS2 }, c) => {
        const worst = samplesMPerS2.reduce((most, value, i) => {
          const apart = Math.abs(read.channels[c]![i]! - value) / Math.max(Math.abs(value), Number.MIN_VALUE);
          return Math.max(most, value === 0 ? Math.abs(read.channels[c]![i]!) : apart);
        }, 0);
        expect(worst).toBeLessThanOrEqual(agreement);
      });
    });
  });

  test('no file is written over', async () => {
    const out = join(folder, 'twice');
    expect((await run(path, '--out', out)).code).toBe(0);
    const again = await run(path, '--out', out);
    expect(again.code).toBe(1);
    expect(again.error).toMatch(/is there already/);
  });

  test.each([
    [path, 'a file is there already'],
    [join(path, 'below'), 'a part of its path is a file, not a folder'],
  ])('a folder that cannot be made is told: %s', async (out, why) => {
    const { code, error } = await run(path, '--out', out);
    expect(code).toBe(1);
    expect(error).toContain(`The folder ${out} cannot be made: ${why}.\n`);
  });
});
