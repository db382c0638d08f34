import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chromium } from 'playwright';
import { locateBrowser as locateInstalled } from '../../host/locateBrowser.ts';

/**
 * Finds a Chromium for the window tests, and installs one where there is none: named by STEMROOT_BROWSER, else
 * Playwright's own, else one on the path. Says on standard error what it took or did.
 * @throws Error with what to do where no browser can be had
 */
export function findBrowser(): string {
  const found = locateBrowser();
  if (found) {
    say(`Browser: ${found}`);
    return found;
  }
  installBrowser();
  const installed = locateBrowser();
  if (installed) {
    say(`Browser: ${installed}`);
    return installed;
  }
  throw new Error(
    'No Chromium was found and none could be installed. Install Chromium or Chrome, or name its program in STEMROOT_BROWSER.',
  );
}

function locateBrowser(): string | undefined {
  const named = process.env.STEMROOT_BROWSER;
  if (named) {
    if (existsSync(named)) return named;
    throw new Error(`STEMROOT_BROWSER names ${named}, and there is no such file.`);
  }
  const own = chromium.executablePath();
  if (existsSync(own)) return own;
  return locateInstalled();
}

function installBrowser(): void {
  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    say('No Chromium here: installing it by apt-get.');
    run('apt-get', ['update', '-qq']);
    if (run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'])) return;
  }
  say('No Chromium here: installing one by npx playwright install chromium.');
  run('npx', ['playwright', 'install', 'chromium']);
}

function run(command: string, parameters: readonly string[]): boolean {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  return spawnSync(command, parameters, { stdio: ['ignore', 'inherit', 'inherit'], env }).status === 0;
}

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}
