import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { makeFolder } from '../workspace/visitFixture.ts';

const START = fileURLToPath(new URL('../../host/start.ts', import.meta.url));

function start(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [START, ...args], { encoding: 'utf8' });
  return { status, stdout, stderr };
}

describe('npm start', () => {
  it('tells what is wrong with a workspace before anything long begins', () => {
    const absent = join(makeFolder(), 'none.stemroot');
    expect(start(absent, '--no-open')).toMatchObject({
      status: 1,
      stdout: '',
      stderr: expect.stringMatching(/^There is no workspace at .*none\.stemroot\.\n/),
    });
    const other = join(makeFolder(), 'x.stemroot');
    writeFileSync(other, 'text');
    expect(start(other)).toMatchObject({
      status: 1,
      stderr: expect.stringContaining('no Stemroot workspace'),
    });
  });

  it('refuses a port that is none', () => {
    expect(start('--port', '70000')).toMatchObject({ status: 1, stderr: expect.stringContaining('65535') });
  });
});
