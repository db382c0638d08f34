/**
 * A text that a spreadsheet would take for a formula, and that gets an apostrophe before it wherever CSV is written: OWASP, "CSV
 * Injection", lists =, +, -, @, tab and line breaks at the start of a field, and the full-width forms of the first four. Numbers stay as
 * they are. (Papa Parse's own pattern lets a formula with a line break in it pass.)
 */
export const TAKEN_FOR_FORMULA = /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/;
