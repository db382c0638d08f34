/** Either the number, or why there is none and what to do. */
export type NumberReading = { readonly value: number } | { readonly reason: string; readonly hint: string };

const PLAIN = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i;

/**
 * Reads a figure as people write it: decimal point or comma as the table has it, no separator of thousands, no unit.
 * @param text - not empty
 */
export function readNumber(text: string, decimalMark: '.' | ','): NumberReading {
  const other = decimalMark === '.' ? ',' : '.';
  if (text.includes(other)) {
    return {
      reason: `holds a "${other}", and the decimal mark of this table is "${decimalMark}"`,
      hint: 'Write it without separators of thousands, or change the decimal mark of the table.',
    };
  }
  const plain = text.replace(',', '.');
  if (PLAIN.test(plain) && Number.isFinite(Number(plain))) return { value: Number(plain) };
  return /^[+-]?(nan|inf(inity)?)$|^#/i.test(text)
    ? { reason: 'is no measurement', hint: 'Leave the cell empty where nothing was measured.' }
    : { reason: 'is no number', hint: 'Write the figure alone: the unit belongs into the header.' };
}

/** Tells the decimal mark of a table: a comma where figures with a comma outnumber those with a point. */
export function guessDecimalMark(cells: Iterable<string>): '.' | ',' {
  let commas = 0;
  let points = 0;
  for (const cell of cells) {
    if (/^\s*[+-]?\d*,\d+(e[+-]?\d+)?\s*$/i.test(cell)) commas++;
    else if (/^\s*[+-]?\d*\.\d+(e[+-]?\d+)?\s*$/i.test(cell)) points++;
  }
  return commas > points ? ',' : '.';
}
