import { freezeTable } from './freezeTable.ts';
import { watchTable } from './watchTable.ts';
import { filled, ID, TEXT } from './words.ts';

/** Whether a break test is in use, as in a workspace file. */
const tables = `
CREATE TABLE break_test_choices (
  choice_id ${ID},
  test_id bigint NOT NULL REFERENCES break_tests (test_id),
  standing ${TEXT} NOT NULL CHECK (standing IN ('in use', 'set aside')),
  chosen_at ${TEXT} NOT NULL,
  chosen_by ${TEXT} NOT NULL ${filled('chosen_by')},
  reason ${TEXT} NOT NULL
);
CREATE INDEX choices_of_test ON break_test_choices (test_id, choice_id);
`;

export const breakTestChoices = {
  name: '20261128T190000_breakTestChoices',
  up: tables + freezeTable('break_test_choices') + watchTable('break_test_choices', ['choice_id']),
};
