import { watchTable } from './watchTable.ts';
import { filled, ID, json, sha256, TEXT } from './words.ts';

/** Lessons, which change; scores, which never change but may go; and recordings attached to visits still being written down. */
const tables = `
CREATE TABLE lessons (
  lesson_id ${ID},
  lesson_json ${TEXT} NOT NULL ${json('lesson_json')},
  changed_at ${TEXT} NOT NULL
);

CREATE TABLE quiz_scores (
  score_id ${ID},
  trainee ${TEXT} NOT NULL ${filled('trainee')},
  graded_at ${TEXT} NOT NULL,
  lesson_title ${TEXT} NOT NULL,
  lesson_sha256 ${TEXT} NOT NULL ${sha256('lesson_sha256')},
  grading_json ${TEXT} NOT NULL ${json('grading_json')}
);
CREATE TRIGGER quiz_scores_never_change BEFORE UPDATE ON quiz_scores
  FOR EACH ROW EXECUTE FUNCTION refuse_change();

CREATE TABLE draft_recordings (
  draft ${TEXT} NOT NULL ${filled('draft')},
  file_name ${TEXT} NOT NULL ${filled('file_name')},
  sha256 ${TEXT} NOT NULL ${sha256('sha256')},
  bytes bytea NOT NULL,
  attached_at ${TEXT} NOT NULL,
  PRIMARY KEY (draft, file_name)
);
`;

export const lessons = {
  name: '20261127T080000_lessons',
  up: tables + watchTable('lessons', ['lesson_id']) + watchTable('quiz_scores', ['score_id']),
};
