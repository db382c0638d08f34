import { mkdirSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { importVisit } from '../../core/workspace/index.ts';
import { findVisitFiles, locateVisit, readVisit } from '../../host/visitFiles.ts';
import { makeCsv, makeFolder, makeStore, makeVisitFile } from '../workspace/visitFixture.ts';

function makeVisit() {
  const outer = makeFolder();
  const folder = join(outer, 'visits');
  mkdirSync(folder);
  const path = join(folder, 'a.visit.json');
  writeFileSync(path, JSON.stringify(makeVisitFile('TV-1', { files: ['a.csv'] })));
  writeFileSync(join(outer, 'outside.csv'), makeCsv());
  return { outer, folder, path };
}

describe('a folder of visits', () => {
  it('is read with the folders below it, in order, and no link to a folder is followed', () => {
    const { outer, folder } = makeVisit();
    const below = join(folder, 'below');
    mkdirSync(below);
    mkdirSync(join(folder, 'folder.visit.json'));
    for (const path of [join(below, 'b.visit.json'), join(outer, 'elsewhere.visit.json')])
      writeFileSync(path, '{}');
    symlinkSync('.', join(folder, 'circle'));
    symlinkSync(outer, join(folder, 'out'));
    expect(findVisitFiles([folder])).toEqual([join(folder, 'a.visit.json'), join(below, 'b.visit.json')]);
  });
});

it('no path, a folder without visit files and a path that is not there are told as what they are', () => {
  expect(() => findVisitFiles([])).toThrow(/nothing to import/);
  const folder = makeFolder();
  expect(() => findVisitFiles([folder])).toThrow(
    `The folder ${folder} holds no file whose name ends in .visit.json.`,
  );
  const absent = join(folder, 'absent');
  expect(() => findVisitFiles([absent])).toThrow(`There is no such file or folder: ${absent}.`);
});

it('a workspace where a visit file is asked for is told as what it is', () => {
  const { folder } = makeVisit();
  const path = join(folder, 'work.stemroot');
  writeFileSync(path, '');
  expect(() => readVisit(path)).toThrow(/is a workspace; a visit file \(\*\.visit\.json\) is expected/);
});

describe('a recording beside its visit file', () => {
  it('may be a link to another file of the same folder', () => {
    const { folder, path } = makeVisit();
    writeFileSync(join(folder, 'b.csv'), makeCsv());
    symlinkSync('b.csv', join(folder, 'a.csv'));
    expect(readVisit(path).recordings.get('a.csv')?.length).toBeGreaterThan(0);
  });

  it('is found where the folder itself is reached by a link', () => {
    const { outer, folder } = makeVisit();
    writeFileSync(join(folder, 'a.csv'), makeCsv());
    symlinkSync(folder, join(outer, 'link'));
    expect(readVisit(join(outer, 'link', 'a.visit.json')).recordings.size).toBe(1);
  });

  it.each(['../outside.csv', '/etc/hostname'])(
    'is not followed out of the folder by a link to %s',
    async (target) => {
      const { folder, path } = makeVisit();
      symlinkSync(target, join(folder, 'a.csv'));
      expect(() => readVisit(path)).toThrow(/a\.csv is a link to a file in another folder/);
      expect(await importVisit(await makeStore(), locateVisit(path))).toMatchObject({
        status: 'failed',
        error: { code: 'recording.link' },
      });
    },
  );

  it('is left out where it is no file, or is missing: the import names it', async () => {
    const { folder, path } = makeVisit();
    expect(await importVisit(await makeStore(), locateVisit(path))).toMatchObject({
      status: 'failed',
      error: { code: 'visit.recording', message: expect.stringContaining('there is no "a.csv" beside') },
    });
    mkdirSync(join(folder, 'a.csv'));
    expect(readVisit(path).recordings.size).toBe(0);
  });

  it('is not read where it is larger than a recording can be', () => {
    const { folder, path } = makeVisit();
    writeFileSync(join(folder, 'a.csv'), '');
    truncateSync(join(folder, 'a.csv'), 2 ** 31);
    expect(() => readVisit(path)).toThrow(/a\.csv has 2147483648 bytes; at most/);
  });
});

describe('a visit file', () => {
  it('is not read where it is larger than one can be', () => {
    const { path } = makeVisit();
    truncateSync(path, 2 ** 31);
    expect(() => readVisit(path)).toThrow(/a\.visit\.json has 2147483648 bytes; at most/);
  });
});
