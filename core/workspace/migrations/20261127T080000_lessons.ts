/**
 * Lessons, which their maker may change or drop; scores of graded quizzes, which never change but may go, since they are
 * about people; and the recordings attached to visits that are still being written down.
 */
const filled = (column: string) => `CHECK (length(trim(${column})) > 0)`;
const sha256 = (column: string) => `CHECK (length(${column}) = 64 AND ${column} NOT GLOB '*[^0-9a-f]*')`;

const tables = `
CREATE TABLE lessons (
  lesson_id INTEGER PRIMARY KEY AUTOINCREMENT,
  lesson_json TEXT NOT NULL CHECK (json_valid(lesson_json)),
  changed_at TEXT NOT NULL
) STRICT;

CREATE TABLE quiz_scores (
  score_id INTEGER PRIMARY KEY AUTOINCREMENT,
  trainee TEXT NOT NULL ${filled('trainee')},
  graded_at TEXT NOT NULL,
  lesson_title TEXT NOT NULL,
  lesson_sha256 TEXT NOT NULL ${sha256('lesson_sha256')},
  grading_json TEXT NOT NULL CHECK (json_valid(grading_json))
) STRICT;
CREATE TRIGGER quiz_scores_never_change BEFORE UPDATE ON quiz_scores
BEGIN SELECT RAISE(ABORT, 'quiz_scores are never changed'); END;

CREATE TABLE draft_recordings (
  draft TEXT NOT NULL ${filled('draft')},
  file_name TEXT NOT NULL ${filled('file_name')},
  sha256 TEXT NOT NULL ${sha256('sha256')},
  bytes BLOB NOT NULL,
  attached_at TEXT NOT NULL,
  PRIMARY KEY (draft, file_name)
) STRICT, WITHOUT ROWID;
`;

export const lessons = { name: '20261127T080000_lessons', up: tables };
