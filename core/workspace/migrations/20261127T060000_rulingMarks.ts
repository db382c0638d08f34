/**
 * What is added to a ruling afterwards: a second signature, or that it was withdrawn; written once like the ruling
 * itself. And choices that a window keeps (views, what is under way on a bench): the one thing here that changes.
 */
const tables = `
CREATE TABLE ruling_marks (
  mark_id INTEGER PRIMARY KEY AUTOINCREMENT,
  ruling_id INTEGER NOT NULL REFERENCES rulings (ruling_id),
  kind TEXT NOT NULL CHECK (kind IN ('signed', 'withdrawn')),
  marked_at TEXT NOT NULL,
  person TEXT NOT NULL CHECK (length(trim(person)) > 0),
  UNIQUE (ruling_id, kind)
) STRICT;

CREATE TABLE kept_choices (
  name TEXT NOT NULL PRIMARY KEY CHECK (length(trim(name)) > 0),
  choices_json TEXT NOT NULL CHECK (json_valid(choices_json)),
  kept_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
`;

const triggers = `
CREATE TRIGGER ruling_marks_never_change BEFORE UPDATE ON ruling_marks
BEGIN SELECT RAISE(ABORT, 'ruling_marks are written once and never changed'); END;
CREATE TRIGGER ruling_marks_never_go BEFORE DELETE ON ruling_marks
BEGIN SELECT RAISE(ABORT, 'ruling_marks are written once and never deleted'); END;
CREATE TRIGGER ruling_marks_never_replaced BEFORE INSERT ON ruling_marks
WHEN EXISTS (
  SELECT 1 FROM ruling_marks
  WHERE mark_id = NEW.mark_id OR (ruling_id = NEW.ruling_id AND kind = NEW.kind)
)
BEGIN SELECT RAISE(ABORT, 'ruling_marks are written once and never replaced'); END;
`;

export const rulingMarks = { name: '20261127T060000_rulingMarks', up: `${tables}${triggers}` };
