import type { RandomStream } from '../../samples/random.ts';
import { pick } from './mutateBytes.ts';

/** Values on which readers of JSON are known to stumble, as they are written. */
const TELLING_VALUES: readonly string[] = [
  ...['null', 'true', '""', '"x"', '[]', '{}', '0', '-0', '-1', '1e308', '1e999', '-1e999', '5e-324'],
  ...[
    '9007199254740993',
    '0.1',
    '"NaN"',
    '"\\u0000"',
    '"\\ud800"',
    '"=1+1"',
    '"<script>"',
    '"../../etc/passwd"',
  ],
  ...[
    '"C:\\\\x"',
    '"2026-13-45"',
    '"0000-00-00"',
    '[[[[[[]]]]]]',
    '{"__proto__":{"x":1}}',
    '{"constructor":1}',
  ],
];

const DEEPEST = 200_000;
const LONGEST_TEXT = 2_000_000;
const LONGEST_ARRAY = 200_000;

/** A visit as JSON text with one or some fields replaced, doubled, left out, or made very deep or long. */
export function mutateVisit(visit: object, random: RandomStream): string {
  const marks: string[] = [];
  const copy = structuredClone(visit) as Record<string, unknown>;
  const changes = Math.floor(random.between(1, 4));
  for (let i = 0; i < changes; i++) changeOne(copy, marks, random);
  let text = JSON.stringify(copy);
  marks.forEach((value, i) => {
    text = text.replace(`"@mark ${i}@"`, () => value);
  });
  return text;
}

function changeOne(root: Record<string, unknown>, marks: string[], random: RandomStream): void {
  const [holder, key] = pick(listPlaces(root), random);
  const put = (json: string) => {
    holder[key] = `@mark ${marks.length}@`;
    marks.push(json);
  };
  const kind = random.between(0, 1);
  if (kind < 0.6) put(pick(TELLING_VALUES, random));
  else if (kind < 0.75) delete holder[key];
  else if (kind < 0.85) holder[`${key}${pick(['', ' ', 'x', '_'], random)}`] = holder[key];
  else if (kind < 0.9) {
    const depth = Math.floor(random.between(10, DEEPEST));
    put(`${'['.repeat(depth)}${']'.repeat(depth)}`);
  } else if (kind < 0.95) put(`"${'x'.repeat(Math.floor(random.between(1000, LONGEST_TEXT)))}"`);
  else put(`[${Array.from({ length: Math.floor(random.between(100, LONGEST_ARRAY)) }, () => 0)}]`);
}

type Place = readonly [holder: Record<string, unknown>, key: string];

function listPlaces(holder: Record<string, unknown>): Place[] {
  return Object.entries(holder).flatMap(([key, value]) => {
    const here: Place[] = [[holder, key]];
    return typeof value === 'object' && value !== null
      ? [...here, ...listPlaces(value as Record<string, unknown>)]
      : here;
  });
}
