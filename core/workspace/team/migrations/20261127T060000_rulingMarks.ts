import { freezeTable } from './freezeTable.ts';
import { filled, ID, json, TEXT } from './words.ts';

/** What is added to a ruling afterwards, written once like the ruling; and choices that windows keep, which change. */
const tables = `
CREATE TABLE ruling_marks (
  mark_id ${ID},
  ruling_id bigint NOT NULL REFERENCES rulings (ruling_id),
  kind ${TEXT} NOT NULL CHECK (kind IN ('signed', 'withdrawn')),
  marked_at ${TEXT} NOT NULL,
  person ${TEXT} NOT NULL ${filled('person')},
  UNIQUE (ruling_id, kind)
);

CREATE TABLE kept_choices (
  name ${TEXT} NOT NULL PRIMARY KEY ${filled('name')},
  choices_json ${TEXT} NOT NULL ${json('choices_json')},
  kept_at ${TEXT} NOT NULL
);
`;

export const rulingMarks = {
  name: '20261127T060000_rulingMarks',
  up: tables + freezeTable('ruling_marks'),
};
