import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { assessmentSchema, failureSchema } from '../../core/assessment.ts';
import { makeVisit } from '../../samples/makeVisit.ts';
import { inventPole } from '../../samples/place.ts';
import { STORIES } from '../../samples/stories.ts';
import { makeFolder } from '../workspace/visitFixture.ts';

const PROJECT = fileURLToPath(new URL('../../', import.meta.url));

/** Makes the first visit of an invented pole in a folder. @returns path of its visit file */
function placeSample(folder: string, poleId: string): string {
  const story = STORIES.find(({ id }) => id === poleId)!;
  const { name, visit, recordings } = makeVisit(inventPole(story), story.visits[0]!);
  for (const { file, bytes } of recordings) writeFileSync(join(folder, file), bytes);
  const path = join(folder, `${name}.visit.json`);
  writeFileSync(path, JSON.stringify(visit));
  return path;
}

function assess(...args: string[]) {
  // As the contract of the command line says it, through npm.
  const command = ['run', '-s', 'stemroot', '--', 'assess', ...args];
  const { status, stdout, stderr } = spawnSync('npm', command, { cwd: PROJECT, encoding: 'utf8' });
  return { status, stderr, stdout, lines: stdout.trimEnd().split('\n') };
}

describe('npm run -s stemroot -- assess, with the whole chain', () => {
  it('prints one result a line, the same bytes at every run', () => {
    const folder = makeFolder();
    const paths = [placeSample(folder, 'KV-0101'), placeSample(folder, 'KV-0401')];
    const first = assess(...paths, '--json');
    expect(first.stderr).toBe('');
    expect(first.status).toBe(0);
    const results = first.lines.map((line) => assessmentSchema.parse(JSON.parse(line)));
    // KV-0401 has faulty strikes only: an honest "cannot tell" is a result and no failure.
    expect(results.map(({ visit, poleId, verdict }) => [visit, poleId, verdict])).toEqual([
      [paths[0], 'KV-0101', 'assessed'],
      [paths[1], 'KV-0401', 'withheld'],
    ]);
    expect(results.every(({ cautions }) => cautions.length > 0)).toBe(true);
    expect(results[1]!.strength).toBeNull();
    expect(assess(...paths, '--json').stdout).toBe(first.stdout);
  });

  it('gives a visit that fails its line and ends with 1', () => {
    const folder = makeFolder();
    const good = placeSample(folder, 'KV-0101');
    const apart = join(folder, 'apart');
    mkdirSync(apart);
    const lonely = join(apart, 'lonely.visit.json');
    copyFileSync(good, lonely);
    const { status, lines } = assess('--json', lonely, good);
    expect(status).toBe(1);
    expect(failureSchema.parse(JSON.parse(lines[0]!))).toMatchObject({
      visit: lonely,
      poleId: 'KV-0101',
      error: { code: 'visit.recording', message: expect.stringContaining('KV-0101-2026-hammer.wav') },
    });
    expect(JSON.parse(lines[1]!)).toMatchObject({ visit: good, verdict: 'assessed' });
  });

  it('prints nothing on standard output where it is used wrongly, and ends with 2', () => {
    expect(assess('--json')).toMatchObject({ status: 2, stdout: '' });
  });
});
