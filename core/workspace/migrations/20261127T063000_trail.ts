import { freezeTable } from './freezeTable.ts';

/**
 * The trail: who changed what, when and why, each entry chained to the one before by SHA-256. `rows_json` names every
 * row that the change wrote, with the hash of the row.
 */
const table = `
CREATE TABLE trail (
  seq INTEGER PRIMARY KEY CHECK (seq > 0),
  at TEXT NOT NULL,
  who TEXT NOT NULL CHECK (length(trim(who)) > 0),
  program TEXT NOT NULL,
  action TEXT NOT NULL CHECK (length(trim(action)) > 0),
  subject TEXT NOT NULL,
  before_json TEXT CHECK (json_valid(before_json)),
  after_json TEXT CHECK (json_valid(after_json)),
  why TEXT,
  rows_json TEXT NOT NULL CHECK (json_valid(rows_json)),
  previous_sha256 TEXT NOT NULL UNIQUE,
  sha256 TEXT NOT NULL UNIQUE
) STRICT;
`;

export const trail = {
  name: '20261127T063000_trail',
  up:
    table +
    freezeTable('trail', 'seq = NEW.seq OR sha256 = NEW.sha256 OR previous_sha256 = NEW.previous_sha256'),
};
