/**
 * Recordings may be packed by Zstandard too. SQLite has no statement that changes a CHECK; its documentation of ALTER TABLE
 * (sqlite.org/lang_altertable.html, section 7) gives this way for changes that touch no row, which spares copying all
 * recordings. Both texts are compared with what is stored when a file is opened (`checkForm`).
 */
export const zstandard = {
  name: '20261127T160000_zstandard',
  up: `
PRAGMA writable_schema = ON;
UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (encoding IN (''brotli''))', 'CHECK (encoding IN (''brotli'', ''zstd''))')
WHERE type = 'table' AND name = 'recordings';
PRAGMA writable_schema = RESET;
`,
};
