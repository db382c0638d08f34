/**
 * Runs every benchmark of this folder in turn, each in a process of its own; studies (names that end in Study) are
 * run by themselves. Run: npm run bench
 */
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const folder = fileURLToPath(new URL('.', import.meta.url));
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.ts') && name !== 'run.ts' && !name.endsWith('Study.ts'))
  .sort();
const failed = names.filter((name) => {
  console.log(`\n== ${name}`);
  return spawnSync(process.execPath, [folder + name], { stdio: 'inherit' }).status !== 0;
});
if (failed.length > 0) {
  console.error(`Failed: ${failed.join(', ')}`);
  process.exitCode = 1;
}
