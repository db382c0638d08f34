import { type Markup, type MarkupValue, markup } from './markup.ts';

/** A column's heading; numbers are set to the right so that their digits stand under each other. */
type Column = { readonly title: string; readonly isNumber?: boolean };

/** Characters that the narrowest column of a table can hold in one line. */
const LONGEST_WHOLE_WORD = 20;

/** A table of up to so many rows is not broken over two pages. */
const MOST_ROWS_KEPT_TOGETHER = 8;

/** A table with a caption that names it; says so in words where it has no rows. */
export function drawTable(
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly MarkupValue[])[],
  whenEmpty: string,
): Markup {
  if (rows.length === 0) return markup`<p class="empty"><b>${caption}:</b> ${whenEmpty}</p>`;
  const align = (i: number): Markup | null => (columns[i]?.isNumber ? markup` class="number"` : null);
  const isShort = rows.length <= MOST_ROWS_KEPT_TOGETHER;
  return markup`<table${isShort && markup` class="together"`}><caption>${caption}</caption><thead><tr>${columns.map(
    (column, i) => markup`<th scope="col"${align(i)}>${allowBreaks(column.title)}</th>`,
  )}</tr></thead><tbody>${rows.map(
    (row) => markup`<tr>${row.map((cell, i) => markup`<td${align(i)}>${allowBreaks(cell)}</td>`)}</tr>`,
  )}</tbody></table>
`;
}

/** Lets a long name (a file's, a hash) break anywhere, which ordinary words must not. */
function allowBreaks(cell: MarkupValue): MarkupValue {
  const hasLongWord =
    typeof cell === 'string' && cell.split(/\s/).some((word) => word.length > LONGEST_WHOLE_WORD);
  return hasLongWord ? markup`<span class="breakable">${cell}</span>` : cell;
}

/** Names and values side by side, in two columns where the page is wide enough. */
export function drawRecord(
  caption: string,
  entries: readonly (readonly [name: MarkupValue, value: MarkupValue])[],
): Markup {
  return markup`<div class="record"><h3>${caption}</h3><dl>${entries.map(
    ([name, value]) => markup`<div><dt>${name}</dt><dd>${allowBreaks(value)}</dd></div>`,
  )}</dl></div>
`;
}

/** A numbered part of the report. */
export function drawPart(title: string, content: readonly MarkupValue[]): Markup {
  return markup`<section><h2>${title}</h2>${content}</section>
`;
}

export function drawList(items: readonly MarkupValue[]): Markup {
  return markup`<ul>${items.map((item) => markup`<li>${item}</li>`)}</ul>`;
}

/** `southern-pine` as `southern pine`. */
export function unhyphenate(code: string): string {
  return code.replaceAll('-', ' ');
}
