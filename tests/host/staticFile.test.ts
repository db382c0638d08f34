import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readStaticFile } from '../../host/index.ts';
import { makeFolder } from '../workspace/visitFixture.ts';

function makeWindow(): string {
  const outer = makeFolder();
  const folder = join(outer, 'window');
  mkdirSync(folder);
  for (const name of ['index.html', 'a b.css', 'data.json', '.hidden.html'])
    writeFileSync(join(folder, name), name);
  writeFileSync(join(outer, 'secret.html'), 'secret');
  symlinkSync(join(outer, 'secret.html'), join(folder, 'link.html'));
  mkdirSync(join(outer, 'window-2'));
  writeFileSync(join(outer, 'window-2', 'near.html'), 'secret');
  return folder;
}

describe('readStaticFile', () => {
  it('reads a file with its kind', async () => {
    const folder = makeWindow();
    expect(await readStaticFile(folder, '/')).toMatchObject({ contentType: 'text/html; charset=utf-8' });
    expect((await readStaticFile(folder, '/a%20b.css'))?.bytes.toString()).toBe('a b.css');
  });

  it.each([
    ['a link that leads out of the folder', '/link.html'],
    ['a folder whose name begins alike', '/../window-2/near.html'],
    ['a hidden file', '/.hidden.html'],
    ['a kind that the window has not', '/data.json'],
    ['a path without its slash', 'index.html'],
    ['a drive', '/c:/secret.html'],
    ['an empty part', '//index.html'],
  ])('has nothing for %s', async (_what, path) => {
    expect(await readStaticFile(makeWindow(), path)).toBeNull();
  });

  it('has nothing where the window is not built', async () => {
    expect(await readStaticFile(join(makeFolder(), 'none'), '/')).toBeNull();
  });
});
