/** A table of break tests is small; what is beyond is no such table. */
export const TABLE_LIMITS = {
  bytes: 8 * 1024 * 1024,
  rows: 20_000,
  /** With empty ones and comments. */
  lines: 100_000,
  columns: 200,
  cellCharacters: 500,
  shownCharacters: 60,
} as const;

/** A row that was not taken, with where and why and what to do. */
export type RefusedCell = {
  /** From 1, as in an editor. */
  readonly line: number;
  /** Header of the column at fault; null where it is the row. */
  readonly column: string | null;
  readonly value: string;
  readonly reason: string;
  readonly hint: string;
};
