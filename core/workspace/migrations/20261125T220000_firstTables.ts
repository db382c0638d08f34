import { freezeTable } from './freezeTable.ts';

/**
 * Poles, visits, recordings, assessments and rulings. Everything that a result rests on is written once: triggers
 * refuse every change, also a replacement under the same key.
 */
const sha256 = (column: string) => `CHECK (length(${column}) = 64 AND ${column} NOT GLOB '*[^0-9a-f]*')`;
const filled = (column: string) => `CHECK (length(trim(${column})) > 0)`;

/** Frozen tables, and when a new row would take the place of another. */
const FROZEN_TABLES = {
  visits: 'visit_id = NEW.visit_id OR contents_sha256 = NEW.contents_sha256',
  recordings: 'sha256 = NEW.sha256',
  visit_recordings: 'visit_id = NEW.visit_id AND position = NEW.position',
  assessments: 'assessment_id = NEW.assessment_id',
  rulings: 'ruling_id = NEW.ruling_id',
} as const;

const tables = `
CREATE TABLE poles (
  pole_id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL UNIQUE ${filled('code')},
  first_seen_at TEXT NOT NULL
) STRICT;

CREATE TABLE visits (
  visit_id INTEGER PRIMARY KEY AUTOINCREMENT,
  pole_id INTEGER NOT NULL REFERENCES poles (pole_id),
  file_name TEXT NOT NULL ${filled('file_name')},
  measured_on TEXT NOT NULL CHECK (measured_on GLOB '[0-9][0-9][0-9][0-9]-[0-1][0-9]-[0-3][0-9]'),
  file_bytes BLOB NOT NULL,
  file_sha256 TEXT NOT NULL ${sha256('file_sha256')},
  contents_sha256 TEXT NOT NULL UNIQUE ${sha256('contents_sha256')},
  imported_at TEXT NOT NULL
) STRICT;
CREATE INDEX visits_of_pole ON visits (pole_id, measured_on);

CREATE TABLE recordings (
  sha256 TEXT NOT NULL PRIMARY KEY ${sha256('sha256')},
  size_bytes INTEGER NOT NULL CHECK (size_bytes > 0),
  encoding TEXT NOT NULL CHECK (encoding IN ('brotli')),
  compressed_bytes BLOB NOT NULL,
  imported_at TEXT NOT NULL
) STRICT;

CREATE TABLE visit_recordings (
  visit_id INTEGER NOT NULL REFERENCES visits (visit_id),
  position INTEGER NOT NULL CHECK (position >= 0),
  file_name TEXT NOT NULL ${filled('file_name')},
  recording_sha256 TEXT NOT NULL REFERENCES recordings (sha256),
  PRIMARY KEY (visit_id, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX visits_of_recording ON visit_recordings (recording_sha256);

CREATE TABLE assessments (
  assessment_id INTEGER PRIMARY KEY AUTOINCREMENT,
  visit_id INTEGER NOT NULL REFERENCES visits (visit_id),
  created_at TEXT NOT NULL,
  program TEXT NOT NULL ${filled('program')},
  verdict TEXT NOT NULL CHECK (verdict IN ('assessed', 'withheld', 'failed')),
  decisions_json TEXT NOT NULL CHECK (json_valid(decisions_json)),
  settings_json TEXT NOT NULL CHECK (json_valid(settings_json)),
  inputs_json TEXT NOT NULL CHECK (json_valid(inputs_json)),
  inputs_sha256 TEXT NOT NULL ${sha256('inputs_sha256')},
  result_json TEXT NOT NULL CHECK (json_valid(result_json)),
  summary_json TEXT NOT NULL CHECK (json_valid(summary_json)),
  picture_brotli BLOB,
  UNIQUE (assessment_id, visit_id)
) STRICT;
CREATE INDEX assessments_of_visit ON assessments (visit_id, assessment_id);

CREATE TABLE rulings (
  ruling_id INTEGER PRIMARY KEY AUTOINCREMENT,
  visit_id INTEGER NOT NULL REFERENCES visits (visit_id),
  assessment_id INTEGER,
  decided_at TEXT NOT NULL,
  analyst TEXT NOT NULL ${filled('analyst')},
  decision TEXT NOT NULL CHECK (decision IN
    ('keep', 'watch', 'measure again', 'excavate and bore', 'replace or restore')),
  reason TEXT NOT NULL ${filled('reason')},
  FOREIGN KEY (assessment_id, visit_id) REFERENCES assessments (assessment_id, visit_id)
) STRICT;
CREATE INDEX rulings_of_visit ON rulings (visit_id, ruling_id);
`;

const triggers = Object.entries(FROZEN_TABLES)
  .map(([table, takesPlace]) => freezeTable(table, takesPlace))
  .join('\n');

export const firstTables = { name: '20261125T220000_firstTables', up: `${tables}${triggers}` };
