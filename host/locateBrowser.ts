import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Chromium and its kin, as they are called on a path. */
const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome', 'msedge'];
const ENDINGS = process.platform === 'win32' ? ['.exe'] : [''];
/** Where they lie on systems that put no programs of this kind on the path. */
const USUAL_PLACES: Partial<Record<NodeJS.Platform, readonly string[]>> = {
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
};

/** A Chromium on this machine: the one named by STEMROOT_BROWSER, else one on the path or in its usual place. */
export function locateBrowser(): string | undefined {
  const named = process.env.STEMROOT_BROWSER;
  if (named) return existsSync(named) ? named : undefined;
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  const onPath = NAMES.flatMap((name) =>
    ENDINGS.flatMap((ending) => folders.map((folder) => join(folder, `${name}${ending}`))),
  );
  return [...onPath, ...(USUAL_PLACES[process.platform] ?? [])].find((path) => existsSync(path));
}
