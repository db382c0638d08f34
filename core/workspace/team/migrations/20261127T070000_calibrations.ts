import { freezeTable } from './freezeTable.ts';
import { watchTable } from './watchTable.ts';
import { filled, ID, json, sha256, TEXT } from './words.ts';

/** Break tests, calibrations, what is in force, recomputes and requirement profiles: nothing changes once it is written. */
const tables = `
CREATE TABLE break_test_sets (
  set_id ${ID},
  file_name ${TEXT} NOT NULL ${filled('file_name')},
  csv_brotli bytea NOT NULL,
  csv_sha256 ${TEXT} NOT NULL ${sha256('csv_sha256')},
  mapping_json ${TEXT} NOT NULL ${json('mapping_json')},
  contents_sha256 ${TEXT} NOT NULL UNIQUE ${sha256('contents_sha256')},
  refused_json ${TEXT} NOT NULL ${json('refused_json')},
  kept_at ${TEXT} NOT NULL
);

CREATE TABLE break_tests (
  test_id ${ID},
  set_id bigint NOT NULL REFERENCES break_test_sets (set_id),
  line bigint NOT NULL CHECK (line > 0),
  pole_code ${TEXT} NOT NULL ${filled('pole_code')},
  test_json ${TEXT} NOT NULL ${json('test_json')},
  UNIQUE (set_id, line)
);
CREATE INDEX break_tests_of_pole ON break_tests (pole_code);

CREATE TABLE calibrations (
  calibration_id ${ID},
  name ${TEXT} NOT NULL ${filled('name')},
  number bigint NOT NULL CHECK (number > 0),
  document_json ${TEXT} NOT NULL ${json('document_json')},
  document_sha256 ${TEXT} NOT NULL UNIQUE ${sha256('document_sha256')},
  origin ${TEXT} NOT NULL CHECK (origin IN ('published', 'imported')),
  added_at ${TEXT} NOT NULL,
  UNIQUE (name, number)
);

CREATE TABLE calibration_choices (
  choice_id ${ID},
  calibration_id bigint REFERENCES calibrations (calibration_id),
  chosen_at ${TEXT} NOT NULL,
  chosen_by ${TEXT} NOT NULL ${filled('chosen_by')},
  reason ${TEXT} NOT NULL
);

CREATE TABLE recomputes (
  recompute_id ${ID},
  calibration_id bigint REFERENCES calibrations (calibration_id),
  calibration ${TEXT} NOT NULL ${filled('calibration')},
  started_at ${TEXT} NOT NULL,
  completed_at ${TEXT} NOT NULL,
  asked_by ${TEXT} NOT NULL ${filled('asked_by')},
  left_json ${TEXT} NOT NULL ${json('left_json')}
);

ALTER TABLE assessments ADD COLUMN basis_id bigint REFERENCES assessments (assessment_id);
ALTER TABLE assessments ADD COLUMN recompute_id bigint REFERENCES recomputes (recompute_id);
CREATE INDEX assessments_of_recompute ON assessments (recompute_id) WHERE recompute_id IS NOT NULL;

CREATE TABLE requirement_profiles (
  profile_id ${ID},
  name ${TEXT} NOT NULL ${filled('name')},
  number bigint NOT NULL CHECK (number > 0),
  profile_json ${TEXT} NOT NULL ${json('profile_json')},
  author ${TEXT} NOT NULL ${filled('author')},
  kept_at ${TEXT} NOT NULL,
  UNIQUE (name, number)
);

CREATE TABLE profile_choices (
  choice_id ${ID},
  pole_id bigint NOT NULL REFERENCES poles (pole_id),
  profile_id bigint REFERENCES requirement_profiles (profile_id),
  chosen_at ${TEXT} NOT NULL,
  chosen_by ${TEXT} NOT NULL ${filled('chosen_by')}
);
CREATE INDEX profiles_of_pole ON profile_choices (pole_id, choice_id);
`;

const KEYS: Readonly<Record<string, readonly string[]>> = {
  break_test_sets: ['set_id'],
  break_tests: ['test_id'],
  calibrations: ['calibration_id'],
  calibration_choices: ['choice_id'],
  recomputes: ['recompute_id'],
  requirement_profiles: ['profile_id'],
  profile_choices: ['choice_id'],
};

export const calibrations = {
  name: '20261127T070000_calibrations',
  up:
    tables +
    Object.entries(KEYS)
      .map(([table, key]) => freezeTable(table) + watchTable(table, key))
      .join('\n'),
};
