import { readFileSync } from 'node:fs';
import papaparse from 'papaparse';

/** Reads a table of tests/reference/data: comment lines by #, then a header row. Cells stay text. */
export function readReferenceTable(fileName: string): Record<string, string>[] {
  const text = readFileSync(new URL(`./data/${fileName}`, import.meta.url), 'utf8');
  const { data } = papaparse.parse<Record<string, string>>(text, {
    header: true,
    comments: '#',
    skipEmptyLines: true,
  });
  return data;
}
