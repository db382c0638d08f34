import { freezeTable } from './freezeTable.ts';

/** Whether a break test is in use: one without a choice is, and its last choice holds. */
const tables = `
CREATE TABLE break_test_choices (
  choice_id INTEGER PRIMARY KEY AUTOINCREMENT,
  test_id INTEGER NOT NULL REFERENCES break_tests (test_id),
  standing TEXT NOT NULL CHECK (standing IN ('in use', 'set aside')),
  chosen_at TEXT NOT NULL,
  chosen_by TEXT NOT NULL CHECK (length(trim(chosen_by)) > 0),
  reason TEXT NOT NULL
) STRICT;
CREATE INDEX choices_of_test ON break_test_choices (test_id, choice_id);
`;

export const breakTestChoices = {
  name: '20261128T190000_breakTestChoices',
  up: tables + freezeTable('break_test_choices', 'choice_id = NEW.choice_id'),
};
