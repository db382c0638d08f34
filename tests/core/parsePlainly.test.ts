import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { parsePlainly } from '../../core/parsePlainly.ts';
import { contract } from '../../core/workspace/index.ts';

const schema = z.strictObject({
  reason: z.string().trim().min(1).max(5),
  heightM: z.number().positive().max(30).optional(),
  count: z.int().min(2).optional(),
  date: z.iso.date().optional(),
  sort: z.enum(['up', 'down']).optional(),
  list: z
    .array(z.object({ name: z.string() }))
    .min(1)
    .optional(),
  either: z.union([z.strictObject({ a: z.number() }), z.strictObject({ b: z.number() })]).optional(),
});

function refuse(value: object): string {
  const parsed = parsePlainly(schema, { reason: 'x', ...value });
  return parsed.success ? 'taken' : `${parsed.field}: ${parsed.words}`;
}

describe('parsePlainly', () => {
  it('gives what the schema makes of the value', () => {
    expect(parsePlainly(schema, { reason: ' ok ' })).toEqual({ success: true, data: { reason: 'ok' } });
  });

  it.each([
    [{ reason: '  ' }, 'reason: a text that is not empty is expected; received "  "'],
    [{ reason: 'too long' }, 'reason: a text of at most 5 characters is expected; received "too long"'],
    [{ reason: undefined }, 'reason: a text is expected; received nothing'],
    [{ heightM: 0 }, 'heightM: a number of more than 0 is expected; received 0'],
    [{ heightM: 31 }, 'heightM: a number of at most 30 is expected; received 31'],
    [{ heightM: Number.NaN }, 'heightM: a number is expected; received NaN'],
    [{ count: 2.5 }, 'count: a whole number is expected; received 2.5'],
    [{ date: '3 May' }, 'date: a date as 2026-05-03 is expected; received "3 May"'],
    [{ sort: 'left' }, 'sort: one of "up", "down" is expected; received "left"'],
    [{ list: [] }, 'list: a list of at least 1 is expected; received an empty list'],
    [{ list: [{ name: 4 }] }, 'list[0].name: a text is expected; received 4'],
    [{ list: { length: 1 } }, 'list: a list is expected; received a group of fields'],
    [{ author: 'A' }, '(top): "author" is not known here'],
    [{ either: { b: 'x' } }, 'either.b: a number is expected; received "x"'],
  ])('says in plain words what is wrong with %j', (value, words) => {
    expect(refuse(value)).toBe(words);
  });

  it('says so of a value that refers to itself', () => {
    const circle: { reason?: unknown } = {};
    circle.reason = circle;
    expect(refuse(circle)).toBe('reason: a text is expected; received a group of fields');
  });

  it.each(Object.keys(contract) as (keyof typeof contract)[])(
    'leaves none of the validator\u2019s own words in a refusal of %s',
    (name) => {
      for (const raw of [null, { visitId: '1', decisions: [{}], format: 1, files: 3, reason: '' }]) {
        const parsed = parsePlainly(contract[name].request, raw);
        if (!parsed.success)
          expect(parsed.words).not.toMatch(/Too (small|big)|Invalid|Unrecognized|expected:/);
      }
    },
  );
});
