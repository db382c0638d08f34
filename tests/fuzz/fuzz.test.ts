import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { StemrootError } from '../../core/errors.ts';
import { type KindName, kinds } from './kinds.ts';

const FOUND = join(import.meta.dirname, 'found');
/** A share of the whole run, which is `npm run test:fuzz`. */
const CASES: Readonly<Record<KindName, number>> = { wav: 500, csv: 200, visit: 200, workspace: 25 };

async function expectTyped(name: KindName, bytes: Uint8Array, which: string): Promise<void> {
  try {
    await kinds[name].read(bytes);
  } catch (error) {
    if (!(error instanceof StemrootError)) throw new Error(`${which}: ${String(error)}`, { cause: error });
    expect([error.code, error.message, error.hint].every((text) => text.length > 0)).toBe(true);
  }
}

describe.each(Object.keys(CASES) as KindName[])('spoiled files: %s', (name) => {
  it('are read, or refused by an error of the program with its hint', async () => {
    vi.spyOn(console, 'error').mockImplementation(() => {});
    for (let i = 0; i < CASES[name]; i++) {
      await expectTyped(name, await kinds[name].make(`test/${name}/${i}`), `${name} ${i}`);
    }
  });
});

describe('files that were found to do harm', () => {
  const files = existsSync(FOUND) ? readdirSync(FOUND) : [];
  it.each(files)('%s', async (file) => {
    await expectTyped(file.split('-')[0] as KindName, readFileSync(join(FOUND, file)), file);
  });
});
