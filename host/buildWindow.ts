import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { StemrootError } from '../core/errors.ts';

const PROJECT = fileURLToPath(new URL('../', import.meta.url));

export const WINDOW_FOLDER = join(PROJECT, 'dist/renderer');

/** Everything that the built window and shell are made of. */
const SOURCES = [
  'renderer',
  'electron',
  'core',
  'host',
  'package.json',
  'vite.config.ts',
  'vite.electron.config.ts',
];
const PRODUCTS = [
  'dist/renderer/index.html',
  'dist/electron/main.js',
  'dist/electron/deskWorker.js',
  'dist/electron/preload.cjs',
];

/** Builds the window and the shell where they are missing or older than their sources. */
export async function buildWindow(): Promise<void> {
  if (isBuilt()) return;
  process.stderr.write('Building the window.\n');
  try {
    await runBuilds();
  } catch (error) {
    throw new StemrootError(
      'window.build',
      `The window could not be built: ${(error as Error).message}`,
      'Install the packages again with npm install; if it stays, report it with these lines.',
    );
  }
}

/** Always the build that people use: under the environment of a test run, Vite would take React's slow one for development. */
async function runBuilds(): Promise<void> {
  const before = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  try {
    await buildAll();
  } finally {
    if (before === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = before;
  }
}

async function buildAll(): Promise<void> {
  const { build } = await import('vite');
  const shared = { root: PROJECT, logLevel: 'silent' } as const;
  await build({ ...shared, root: join(PROJECT, 'renderer'), configFile: join(PROJECT, 'vite.config.ts') });
  for (const mode of ['main', 'preload']) {
    await build({ ...shared, configFile: join(PROJECT, 'vite.electron.config.ts'), mode });
  }
}

function isBuilt(): boolean {
  const products = PRODUCTS.map((path) => join(PROJECT, path));
  if (!products.every((path) => existsSync(path))) return false;
  const built = Math.min(...products.map((path) => statSync(path).mtimeMs));
  return SOURCES.every((path) => newestChangeMs(join(PROJECT, path)) < built);
}

function newestChangeMs(path: string): number {
  const kind = statSync(path, { throwIfNoEntry: false });
  if (!kind) return 0;
  if (!kind.isDirectory()) return kind.mtimeMs;
  const within = readdirSync(path, { recursive: true, encoding: 'utf8' });
  return Math.max(kind.mtimeMs, ...within.map((name) => statSync(join(path, name)).mtimeMs));
}
