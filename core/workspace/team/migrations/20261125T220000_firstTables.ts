import { freezeTable } from './freezeTable.ts';
import { filled, ID, json, sha256, TEXT } from './words.ts';

/** Poles, visits, recordings, assessments and rulings; what a result rests on is written once. */
const refuseChange = `
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% are written once and never %', TG_TABLE_NAME,
    CASE TG_OP WHEN 'UPDATE' THEN 'changed' ELSE 'deleted' END
    USING ERRCODE = 'restrict_violation';
END $$;
`;

const tables = `
CREATE TABLE poles (
  pole_id ${ID},
  code ${TEXT} NOT NULL UNIQUE ${filled('code')},
  first_seen_at ${TEXT} NOT NULL
);

CREATE TABLE visits (
  visit_id ${ID},
  pole_id bigint NOT NULL REFERENCES poles (pole_id),
  file_name ${TEXT} NOT NULL ${filled('file_name')},
  measured_on ${TEXT} NOT NULL CHECK (measured_on ~ '^[0-9]{4}-[0-1][0-9]-[0-3][0-9]$'),
  file_bytes bytea NOT NULL,
  file_sha256 ${TEXT} NOT NULL ${sha256('file_sha256')},
  contents_sha256 ${TEXT} NOT NULL UNIQUE ${sha256('contents_sha256')},
  imported_at ${TEXT} NOT NULL
);
CREATE INDEX visits_of_pole ON visits (pole_id, measured_on);

CREATE TABLE recordings (
  sha256 ${TEXT} NOT NULL PRIMARY KEY ${sha256('sha256')},
  size_bytes bigint NOT NULL CHECK (size_bytes > 0),
  encoding ${TEXT} NOT NULL CHECK (encoding IN ('brotli')),
  compressed_bytes bytea NOT NULL,
  imported_at ${TEXT} NOT NULL
);
-- already compressed: PostgreSQL would try in vain
ALTER TABLE recordings ALTER COLUMN compressed_bytes SET STORAGE EXTERNAL;

CREATE TABLE visit_recordings (
  visit_id bigint NOT NULL REFERENCES visits (visit_id),
  position bigint NOT NULL CHECK (position >= 0),
  file_name ${TEXT} NOT NULL ${filled('file_name')},
  recording_sha256 ${TEXT} NOT NULL REFERENCES recordings (sha256),
  PRIMARY KEY (visit_id, position)
);
CREATE INDEX visits_of_recording ON visit_recordings (recording_sha256);

CREATE TABLE assessments (
  assessment_id ${ID},
  visit_id bigint NOT NULL REFERENCES visits (visit_id),
  created_at ${TEXT} NOT NULL,
  program ${TEXT} NOT NULL ${filled('program')},
  verdict ${TEXT} NOT NULL CHECK (verdict IN ('assessed', 'withheld', 'failed')),
  decisions_json ${TEXT} NOT NULL ${json('decisions_json')},
  settings_json ${TEXT} NOT NULL ${json('settings_json')},
  inputs_json ${TEXT} NOT NULL ${json('inputs_json')},
  inputs_sha256 ${TEXT} NOT NULL ${sha256('inputs_sha256')},
  result_json ${TEXT} NOT NULL ${json('result_json')},
  summary_json ${TEXT} NOT NULL ${json('summary_json')},
  picture_brotli bytea,
  UNIQUE (assessment_id, visit_id)
);
ALTER TABLE assessments ALTER COLUMN picture_brotli SET STORAGE EXTERNAL;
CREATE INDEX assessments_of_visit ON assessments (visit_id, assessment_id);

CREATE TABLE rulings (
  ruling_id ${ID},
  visit_id bigint NOT NULL REFERENCES visits (visit_id),
  assessment_id bigint,
  decided_at ${TEXT} NOT NULL,
  analyst ${TEXT} NOT NULL ${filled('analyst')},
  decision ${TEXT} NOT NULL CHECK (decision IN
    ('keep', 'watch', 'measure again', 'excavate and bore', 'replace or restore')),
  reason ${TEXT} NOT NULL ${filled('reason')},
  FOREIGN KEY (assessment_id, visit_id) REFERENCES assessments (assessment_id, visit_id)
);
CREATE INDEX rulings_of_visit ON rulings (visit_id, ruling_id);
`;

const FROZEN_TABLES = ['visits', 'recordings', 'visit_recordings', 'assessments', 'rulings'];

export const firstTables = {
  name: '20261125T220000_firstTables',
  up: refuseChange + tables + FROZEN_TABLES.map(freezeTable).join('\n'),
};
