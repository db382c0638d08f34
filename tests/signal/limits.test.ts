/** The limits of the checks as docs/signal.md prints them. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CHECK_LIMITS } from '../../core/signal/index.ts';

test('docs/signal.md holds every limit as it is, with unit and source', () => {
  const page = readFileSync(new URL('../../docs/signal.md', import.meta.url), 'utf8');
  const rows = page
    .split('\n')
    .filter((line) => line.startsWith('| `'))
    .map((line) => line.split('|').map((cell) => cell.trim()));
  const printed = rows.map(([, id, care, repeat, unit, source]) => ({ id, care, repeat, unit, source }));
  const wanted = Object.entries(CHECK_LIMITS).map(([id, { care, repeat, unit, source }]) => ({
    id: `\`${id}\``,
    care: String(care),
    repeat: repeat === null ? 'never' : String(repeat),
    unit,
    source,
  }));
  expect(printed).toEqual(wanted);
});
