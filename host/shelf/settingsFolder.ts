import { homedir } from 'node:os';
import { join } from 'node:path';

/** Where settings lie: where each system keeps those of a program. XDG Base Directory Specification 0.8 for Linux. */
export function settingsFolder(): string {
  if (process.platform === 'win32') {
    return join(process.env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), 'Stemroot');
  }
  if (process.platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Stemroot');
  return join(process.env.XDG_CONFIG_HOME || join(homedir(), '.config'), 'stemroot');
}
