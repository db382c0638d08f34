import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import type { ModeCandidate, PoleCluster } from '../../core/modal/index.ts';
import { runCli } from '../../host/cli.ts';
import { makeVisit } from '../../samples/makeVisit.ts';
import { inventPole } from '../../samples/place.ts';
import { STORIES } from '../../samples/stories.ts';

/* Source: the truth of an invented pole, which is made by its own program (samples) and not by what is tested. */
const story = STORIES.find(({ id }) => id === 'KV-0101')!;
const made = makeVisit(inventPole(story), story.visits[0]!);
const SURE_MODES = 3;
/** Agreement asked for, as a share: planes of this pole differ by more, poles that both planes share lie between. */
const OWN_SHARE = 0.0005;
const SHARED_SHARE = 0.005;
const DAMPING_SHARE = 0.02;
const folder = mkdtempSync(join(tmpdir(), 'stemroot-modes-'));
const path = join(folder, `${made.name}.visit.json`);

beforeAll(() => {
  writeFileSync(path, JSON.stringify(made.visit));
  for (const { file, bytes } of made.recordings) writeFileSync(join(folder, file), bytes);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function print(...options: string[]): Promise<string> {
  let written = '';
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    written += String(text);
    return true;
  });
  try {
    expect(await runCli(['modes', path, ...options])).toBe(0);
    return written;
  } finally {
    spy.mockRestore();
  }
}

it('takes the first three modes of each plane at their true frequency and damping, and poles hold there', async () => {
  const listing = JSON.parse(await print('--json'));
  expect(listing.visit).toBe(path);
  const candidates = listing.candidates as ModeCandidate[];
  const clusters = listing.clusters as PoleCluster[];
  for (const { plane, modes } of made.truth.planes) {
    for (const { frequencyHz, dampingRatio } of modes.slice(0, SURE_MODES)) {
      const offset = (otherHz: number) => Math.abs(otherHz - frequencyHz) / frequencyHz;
      const mode = candidates.find((c) => c.plane === plane && offset(c.frequencyHz.value) < OWN_SHARE)!;
      expect(mode.accepted).toBe(true);
      expect(mode.reason).not.toBe('');
      expect(Math.abs(mode.dampingRatio.value - dampingRatio)).toBeLessThan(DAMPING_SHARE * dampingRatio);
      expect(clusters.some((c) => offset(c.frequencyHz) < SHARED_SHARE)).toBe(true);
    }
  }
});

it('says of each candidate in words whether it was taken, and why', async () => {
  const lines = (await print()).split('\n');
  expect(lines[0]).toBe('Modes, taken and refused:');
  expect(
    lines.filter((line) => /^ {2}taken {3}plane \d \(\d+°\), [\d.]+ ± [\d.]+ Hz, damping .*: \w+/.test(line))
      .length,
  ).toBeGreaterThanOrEqual(6);
  expect(lines.some((line) => /^ {2}[\d.]+ Hz at \d+ orders/.test(line))).toBe(true);
});
