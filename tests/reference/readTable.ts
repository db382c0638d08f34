import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Rows of a kept reference table by column name; lines that begin with # are its header. */
export function readTable(name: string): Record<string, string>[] {
  const text = readFileSync(join(import.meta.dirname, 'data', name), 'utf8');
  const [head, ...lines] = text.split('\n').filter((line) => line.trim() !== '' && !line.startsWith('#'));
  const columns = head!.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    return Object.fromEntries(columns.map((column, i) => [column, cells[i] ?? '']));
  });
}
