import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A folder for all tests of a file, which removes it at its end. */
export function makeTemporaryFolder(): { path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'stemroot-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
