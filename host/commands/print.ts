import { plainText } from '../plainText.ts';

const GAP = '  ';

export function print(text: string): void {
  process.stdout.write(`${plainText(text)}\n`);
}

export function printJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value)}\n`);
}

/** Lays rows out under headings as plain text, columns in their widths. */
export function layTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  // the last column needs no room to its right: a long source would only lengthen the rule
  const widths = head.map((title, i) =>
    i === head.length - 1 ? title.length : Math.max(title.length, ...rows.map((row) => row[i]!.length)),
  );
  const lines = [head, widths.map((width) => '-'.repeat(width)), ...rows];
  return lines
    .map((line) =>
      line
        .map((cell, i) => cell.padEnd(widths[i]!))
        .join(GAP)
        .trimEnd(),
    )
    .join('\n');
}

/** A share in per cent; `none` where it is not known. */
export function percent(share: number | null, digits = 0): string {
  return share === null ? 'none' : `${(100 * share).toFixed(digits)} %`;
}
