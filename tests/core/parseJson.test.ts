import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseJson } from '../../core/parseJson.ts';

const nest = (depth: number) => `${'['.repeat(depth)}1${']'.repeat(depth)}`;

describe('parseJson', () => {
  it('reads whatever JSON.parse reads', () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 8 }), (text) => {
        expect(parseJson(text)).toEqual(JSON.parse(text));
      }),
    );
  });

  it.each([
    ['64 levels', nest(64)],
    ['brackets within a string', JSON.stringify('['.repeat(1000))],
    ['a quote within a string', JSON.stringify('"['.repeat(1000))],
    ['many that close again', `[${Array(1000).fill('[]').join()}]`],
  ])('reads %s', (_what, text) => {
    expect(parseJson(text)).toEqual(JSON.parse(text));
  });

  it.each([
    ['65 levels', nest(65)],
    ['objects', `${'{"a":'.repeat(65)}1${'}'.repeat(65)}`],
    ['a million brackets that never close', '['.repeat(1_000_000)],
  ])('refuses %s', (_what, text) => {
    expect(() => parseJson(text)).toThrow(new SyntaxError('nested deeper than 64 levels'));
  });

  it.each(['', '{', '[1,]', "{'a':1}", 'undefined'])('refuses what is no JSON: %s', (text) => {
    expect(() => parseJson(text)).toThrow(SyntaxError);
  });
});
