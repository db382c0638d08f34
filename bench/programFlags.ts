import { readFileSync } from 'node:fs';

/** Flags that a script of package.json hands to Node; without what keeps compiled code, which tells nothing of a further run. */
export function programFlags(script: 'start' | 'stemroot'): string[] {
  const { scripts } = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8'));
  const words = (scripts[script] as string).split(' ');
  return words.filter((word) => word.startsWith('--') && word !== '--import');
}
