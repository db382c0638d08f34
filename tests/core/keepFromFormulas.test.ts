import { describe, expect, it } from 'vitest';
import { keepFromFormulas } from '../../core/keepFromFormulas.ts';

// OWASP, "CSV Injection": characters by which a spreadsheet takes a field for a formula
describe('a field of CSV', () => {
  it.each([
    "=cmd|' /C calc'!A0",
    '+1',
    '-1+2',
    '@SUM(A1)',
    '\t1',
    '\r1',
    '\n1',
    ' =1+1',
    '=1\n2',
    '\uFF1D1+1',
    '\u00a0=1',
  ])('is kept from running as a formula: %j', (text) => {
    expect(keepFromFormulas(text)).toBe(`'${text}`);
  });

  // the same page: "the field separator and quotes" of the reader's choice begin fields too
  it.each([
    ["sound;=cmd|' /C calc'!A0;", "sound;'=cmd|' /C calc'!A0;"],
    ['a; @SUM(A1)', "a;' @SUM(A1)"],
    ['a\t-1', "a\t'-1"],
    ['first line\n=1+1', "first line\n'=1+1"],
    ['\n=1', "'\n'=1"],
  ])('is kept from it where a semicolon, tab or line break begins a field: %j', (text, kept) => {
    expect(keepFromFormulas(text)).toBe(kept);
  });

  it.each(['KV-0417', 'a=b', 'soft root', 'soft; split', '1', ''])('stays as it is: %j', (text) => {
    expect(keepFromFormulas(text)).toBe(text);
  });

  it('stays a number, also below zero, and nothing stays nothing', () => {
    expect([keepFromFormulas(-1.5), keepFromFormulas(null)]).toEqual([-1.5, null]);
  });
});
