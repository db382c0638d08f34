/** Recordings may be packed by Zstandard too. */
export const zstandard = {
  name: '20261127T160000_zstandard',
  up: `
ALTER TABLE recordings DROP CONSTRAINT recordings_encoding_check;
ALTER TABLE recordings ADD CONSTRAINT recordings_encoding_check CHECK (encoding IN ('brotli', 'zstd'));
`,
};
