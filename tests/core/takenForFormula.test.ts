import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { TAKEN_FOR_FORMULA } from '../../core/takenForFormula.ts';

const write = (cell: string | number) => Papa.unparse([[cell]], { escapeFormulae: TAKEN_FOR_FORMULA });

// OWASP, "CSV Injection": characters by which a spreadsheet takes a field for a formula
describe('a field of CSV', () => {
  it.each([
    "=cmd|' /C calc'!A0",
    '+1',
    '-1+2',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    ' =1+1',
    '=1\n2',
    '\uFF1D1+1',
    '\u00a0=1',
  ])('is kept from running as a formula: %j', (text) => {
    const [[cell]] = Papa.parse<string[]>(write(text)).data as [[string]];
    expect(cell).toBe(`'${text}`);
  });

  it.each(['KV-0417', 'a=b', 'soft root', '1', ''])('stays as it is: %j', (text) => {
    const parsed = Papa.parse<string[]>(write(text)).data;
    expect(parsed[0]?.[0] ?? '').toBe(text);
  });

  it('stays a number, also below zero', () => {
    expect(write(-1.5)).toBe('-1.5');
  });
});
