import { readFileSync } from 'node:fs';

/** Quantities of a document's worked example with the numbers as printed: rows `| step | quantity | number | unit |` below a heading. */
export function readWorkedTables(file: string, heading: string): { quantity: string; printed: string }[] {
  const text = readFileSync(new URL(`../../docs/${file}`, import.meta.url), 'utf8');
  const example = text.slice(text.indexOf(heading));
  return [...example.matchAll(/^\| .+ \| ([^|]+) \| (-?\d[\d.e-]*) \|[^|]*\|$/gm)].map((row) => ({
    quantity: row[1]!.trim(),
    printed: row[2]!,
  }));
}

/** One unit of the last digit printed. */
export function lastDigit(printed: string): number {
  const [mantissa, exponent = '0'] = printed.split('e');
  return 10 ** (Number(exponent) - (mantissa!.split('.')[1]?.length ?? 0));
}
