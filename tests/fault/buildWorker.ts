import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';

const PROJECT = join(import.meta.dirname, '../..');

/**
 * Bundles the program that is killed into one file, since loading its some thousand modules takes longer than the work itself.
 * @returns the file, within the project so that its native package is found, and how to be rid of it
 */
export async function buildWorker(): Promise<{ file: string; remove(): void }> {
  const folder = join(PROJECT, 'node_modules', '.cache', `stemroot-fault-${process.pid}`);
  await build({
    root: PROJECT,
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: true, external: ['better-sqlite3', 'piscina', 'electron'] },
    build: { ssr: join(import.meta.dirname, 'work.ts'), outDir: folder, emptyOutDir: true, target: 'node24' },
  });
  return { file: join(folder, 'work.js'), remove: () => rmSync(folder, { recursive: true, force: true }) };
}
