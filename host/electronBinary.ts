import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const DOWNLOAD_TIMEOUT_MS = 120_000;
const PROJECT = fileURLToPath(new URL('../', import.meta.url));

/** Path of the Electron program, fetched by the package's own installer where it is missing; null where it cannot be had. */
export function findElectron(): string | null {
  if (process.platform === 'linux' && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) {
    process.stdout.write('There is no desktop here, so the window opens in a browser.\n');
    return null;
  }
  const folder = electronFolder();
  const found = locate(folder);
  if (found) return found;
  process.stdout.write('Fetching the Electron program (once).\n');
  const installer = spawnSync(process.execPath, [join(folder, 'install.js')], {
    stdio: 'ignore',
    timeout: DOWNLOAD_TIMEOUT_MS,
  });
  const fetched = installer.status === 0 ? locate(folder) : null;
  if (!fetched)
    process.stdout.write('The Electron program cannot be had here, so the window opens in a browser.\n');
  return fetched;
}

/** Runs the shell on a workspace until its window is closed. @returns its exit code */
export function runElectron(binary: string, workspace: string): Promise<number> {
  return new Promise((resolve, reject) => {
    const shell = spawn(binary, [PROJECT, workspace], { stdio: 'inherit' });
    shell.on('error', reject);
    shell.on('exit', (code) => resolve(code ?? 1));
  });
}

function electronFolder(): string {
  return dirname(fileURLToPath(import.meta.resolve('electron/package.json')));
}

/** The package writes the name of its program into path.txt once it is there. */
function locate(folder: string): string | null {
  const note = join(folder, 'path.txt');
  if (!existsSync(note)) return null;
  const binary = join(folder, 'dist', readFileSync(note, 'utf8').trim());
  return existsSync(binary) ? binary : null;
}
