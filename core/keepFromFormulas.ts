/**
 * Where a spreadsheet would take a text for a formula: OWASP, "CSV Injection", lists =, +, -, @ and their full-width forms, tab and
 * line breaks at the start of a field. A spreadsheet that separates fields by semicolons or tabs begins a field of its own behind
 * each, and behind each line break, since the quotes of a field of commas mean nothing to it; so these count as a start too.
 * (Papa Parse's own guard looks at the start alone, and lets a formula with a line break in it pass.)
 */
const AT_THE_START = /^(?=\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|[\t\r\n])/;
const BEHIND_A_BREAK = /([;\t\r\n])(?=\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])/g;

/** Puts an apostrophe wherever a spreadsheet would begin a formula. To be used wherever CSV is written; numbers stay as they are. */
export function keepFromFormulas<T extends string | number | null>(cell: T): T | string {
  return typeof cell === 'string' ? cell.replace(BEHIND_A_BREAK, "$1'").replace(AT_THE_START, "'") : cell;
}
