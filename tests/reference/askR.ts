import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const R = 'Rscript';

/** True where R with a package can be asked. */
export function hasR(packageName: string): boolean {
  return spawnSync(R, ['-e', `library(${packageName})`]).status === 0;
}

/** Runs a script beside this file and reads the JSON lines that it prints. */
export function askR(script: string): Record<string, number[]> {
  const path = fileURLToPath(new URL(script, import.meta.url));
  const run = spawnSync(R, [path, fileURLToPath(new URL('./data', import.meta.url))], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`R failed: ${run.stderr}`);
  return JSON.parse(run.stdout) as Record<string, number[]>;
}
