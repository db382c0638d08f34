import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { contract } from '../../core/workspace/index.ts';

const FILE = 'settings.json';
/** More are not looked at in a list. */
const MOST_WORKSPACES = 12;

const settingsSchema = z.object({
  version: z.literal(1),
  workspaces: z.array(z.object({ path: z.string(), openedAt: z.string() })).default([]),
  preferences: contract['shelf.list'].response.shape.preferences.default({
    units: 'metric',
    hints: true,
    hintsDone: [],
  }),
});

export type Settings = z.infer<typeof settingsSchema>;

/** Reads the settings. A file that is missing or that cannot be read stands for none. */
export function readSettings(folder: string): Settings {
  try {
    return settingsSchema.parse(JSON.parse(readFileSync(join(folder, FILE), 'utf8')));
  } catch {
    // settings are a convenience: without them the program starts as on its first day
    return settingsSchema.parse({ version: 1 });
  }
}

/** Writes the settings whole or not at all, for this user alone. A folder that cannot be written is said once on standard error. */
export function writeSettings(folder: string, settings: Settings): void {
  const kept = { ...settings, workspaces: settings.workspaces.slice(0, MOST_WORKSPACES) };
  const path = join(folder, FILE);
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    writeFileSync(`${path}.new`, `${JSON.stringify(kept, null, 2)}\n`, { mode: 0o600 });
    renameSync(`${path}.new`, path);
  } catch (error) {
    process.stderr.write(`Settings are not kept: ${(error as Error).message}\n`);
  }
}
