import { freezeTable } from './freezeTable.ts';

/**
 * Break tests, calibrations, what is in force, results brought under another calibration, and requirement profiles.
 * Nothing here changes once it is written: a choice is followed by another choice, a profile by its next version.
 * A recompute and all of its results come in one transaction. `result_json` of an assessment with a basis holds only
 * what differs from that one, whose stem and root it rests on.
 */
const sha256 = (column: string) => `CHECK (length(${column}) = 64 AND ${column} NOT GLOB '*[^0-9a-f]*')`;
const filled = (column: string) => `CHECK (length(trim(${column})) > 0)`;
const json = (column: string) => `CHECK (json_valid(${column}))`;

const tables = `
CREATE TABLE break_test_sets (
  set_id INTEGER PRIMARY KEY AUTOINCREMENT,
  file_name TEXT NOT NULL ${filled('file_name')},
  csv_brotli BLOB NOT NULL,
  csv_sha256 TEXT NOT NULL ${sha256('csv_sha256')},
  mapping_json TEXT NOT NULL ${json('mapping_json')},
  contents_sha256 TEXT NOT NULL UNIQUE ${sha256('contents_sha256')},
  refused_json TEXT NOT NULL ${json('refused_json')},
  kept_at TEXT NOT NULL
) STRICT;

CREATE TABLE break_tests (
  test_id INTEGER PRIMARY KEY AUTOINCREMENT,
  set_id INTEGER NOT NULL REFERENCES break_test_sets (set_id),
  line INTEGER NOT NULL CHECK (line > 0),
  pole_code TEXT NOT NULL ${filled('pole_code')},
  test_json TEXT NOT NULL ${json('test_json')},
  UNIQUE (set_id, line)
) STRICT;
CREATE INDEX break_tests_of_pole ON break_tests (pole_code);

CREATE TABLE calibrations (
  calibration_id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL ${filled('name')},
  number INTEGER NOT NULL CHECK (number > 0),
  document_json TEXT NOT NULL ${json('document_json')},
  document_sha256 TEXT NOT NULL UNIQUE ${sha256('document_sha256')},
  origin TEXT NOT NULL CHECK (origin IN ('published', 'imported')),
  added_at TEXT NOT NULL,
  UNIQUE (name, number)
) STRICT;

CREATE TABLE calibration_choices (
  choice_id INTEGER PRIMARY KEY AUTOINCREMENT,
  calibration_id INTEGER REFERENCES calibrations (calibration_id),
  chosen_at TEXT NOT NULL,
  chosen_by TEXT NOT NULL ${filled('chosen_by')},
  reason TEXT NOT NULL
) STRICT;

CREATE TABLE recomputes (
  recompute_id INTEGER PRIMARY KEY AUTOINCREMENT,
  calibration_id INTEGER REFERENCES calibrations (calibration_id),
  calibration TEXT NOT NULL ${filled('calibration')},
  started_at TEXT NOT NULL,
  completed_at TEXT NOT NULL,
  asked_by TEXT NOT NULL ${filled('asked_by')},
  left_json TEXT NOT NULL ${json('left_json')}
) STRICT;

ALTER TABLE assessments ADD COLUMN basis_id INTEGER REFERENCES assessments (assessment_id);
ALTER TABLE assessments ADD COLUMN recompute_id INTEGER REFERENCES recomputes (recompute_id);
CREATE INDEX assessments_of_recompute ON assessments (recompute_id) WHERE recompute_id IS NOT NULL;

CREATE TABLE requirement_profiles (
  profile_id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL ${filled('name')},
  number INTEGER NOT NULL CHECK (number > 0),
  profile_json TEXT NOT NULL ${json('profile_json')},
  author TEXT NOT NULL ${filled('author')},
  kept_at TEXT NOT NULL,
  UNIQUE (name, number)
) STRICT;

CREATE TABLE profile_choices (
  choice_id INTEGER PRIMARY KEY AUTOINCREMENT,
  pole_id INTEGER NOT NULL REFERENCES poles (pole_id),
  profile_id INTEGER REFERENCES requirement_profiles (profile_id),
  chosen_at TEXT NOT NULL,
  chosen_by TEXT NOT NULL ${filled('chosen_by')}
) STRICT;
CREATE INDEX profiles_of_pole ON profile_choices (pole_id, choice_id);
`;

const frozen = {
  break_test_sets: 'set_id = NEW.set_id OR contents_sha256 = NEW.contents_sha256',
  break_tests: 'test_id = NEW.test_id OR (set_id = NEW.set_id AND line = NEW.line)',
  calibrations:
    'calibration_id = NEW.calibration_id OR document_sha256 = NEW.document_sha256 OR (name = NEW.name AND number = NEW.number)',
  calibration_choices: 'choice_id = NEW.choice_id',
  recomputes: 'recompute_id = NEW.recompute_id',
  requirement_profiles: 'profile_id = NEW.profile_id OR (name = NEW.name AND number = NEW.number)',
  profile_choices: 'choice_id = NEW.choice_id',
};

export const calibrations = {
  name: '20261127T070000_calibrations',
  up:
    tables +
    Object.entries(frozen)
      .map(([table, takesPlace]) => freezeTable(table, takesPlace))
      .join('\n'),
};
