import { COMPOSITION } from '../register/composition.ts';

/** How words are cut for the search: into pieces of three letters. */
export const WORDS_TOKENIZER = 'trigram case_sensitive 1';

/**
 * The register as stored rows, which are computed from all else and may be built anew. Triggers note the poles of which something
 * was stored; whoever stores it, or else whoever reads next, computes their rows. In a file that is
 * brought forward the rows of all poles are computed step by step once it is open.
 */
const tables = `
CREATE TABLE register_rows (
  visit_id INTEGER PRIMARY KEY,
  place TEXT NOT NULL,
  facet_id INTEGER NOT NULL,
  measured_on TEXT NOT NULL,
  need REAL,
  f1 REAL,
  f2 REAL,
  f3 REAL,
  modulus REAL,
  fixity REAL,
  capacity REAL,
  requirement REAL,
  chance REAL,
  threshold REAL,
  threshold_chance REAL,
  ruled_at TEXT,
  own_words TEXT NOT NULL
) STRICT;

CREATE TABLE register_texts (
  visit_id INTEGER PRIMARY KEY,
  row_json TEXT NOT NULL
) STRICT;

CREATE TABLE register_facets (
  facet_id INTEGER PRIMARY KEY,
  facet_sha256 TEXT NOT NULL UNIQUE,
  facet_json TEXT NOT NULL,
  visits INTEGER NOT NULL
) STRICT;

CREATE TABLE register_stale (pole_id INTEGER PRIMARY KEY) STRICT;
CREATE TABLE register_state (revision INTEGER NOT NULL, composition INTEGER NOT NULL) STRICT;
INSERT INTO register_state VALUES (0, CASE WHEN EXISTS (SELECT 1 FROM poles) THEN 0 ELSE ${COMPOSITION} END);

CREATE VIRTUAL TABLE register_search USING fts5(
  own_words, content='', contentless_delete=1, tokenize='${WORDS_TOKENIZER}'
);
CREATE VIRTUAL TABLE register_pieces USING fts5vocab(register_search, row);
`;

const ofVisit = 'SELECT pole_id FROM visits WHERE visit_id = NEW.visit_id';

/** Where something new is stored that changes rows, and whose. */
const STALE_BY = {
  visits: 'SELECT NEW.pole_id',
  visit_recordings: ofVisit,
  assessments: ofVisit,
  rulings: ofVisit,
  ruling_marks: 'SELECT pole_id FROM visits JOIN rulings USING (visit_id) WHERE ruling_id = NEW.ruling_id',
};

/** Orders of which a row without a value has no part. */
const ORDERS = {
  need: 'DESC',
  f1: 'ASC',
  f2: 'ASC',
  f3: 'ASC',
  modulus: 'ASC',
  fixity: 'ASC',
  capacity: 'ASC',
  requirement: 'ASC',
  chance: 'ASC',
  threshold: 'ASC',
  threshold_chance: 'ASC',
  ruled_at: 'DESC',
};

/** Every order as its index has it, and what its values are; by place, the place itself. */
export const INDEXED_COLUMNS = [
  { column: 'place', kind: 'place', direction: 'ASC' },
  { column: 'measured_on', kind: 'text', direction: 'DESC' },
  ...Object.entries(ORDERS).map(([column, direction]) => ({
    ...{ column, direction },
    kind: column === 'ruled_at' ? 'text' : 'number',
  })),
] as const;

/**
 * Indexes of the rows, on both databases. One an order; ties by pole and date. With the facet in it, most questions are answered from
 * the index alone.
 */
export const ROW_INDEXES: Readonly<Record<string, string>> = {
  register_by_facet: 'CREATE INDEX register_by_facet ON register_rows (facet_id)',
  register_by_place: 'CREATE INDEX register_by_place ON register_rows (place, visit_id, facet_id)',
  register_by_date:
    'CREATE INDEX register_by_date ON register_rows (measured_on DESC, place, visit_id, facet_id)',
  ...Object.fromEntries(
    Object.entries(ORDERS).map(([column, direction]) => [
      `register_by_${column}`,
      `CREATE INDEX register_by_${column} ON register_rows (${column} ${direction}, place, visit_id, facet_id) WHERE ${column} IS NOT NULL`,
    ]),
  ),
};

const triggers = Object.entries(STALE_BY)
  .map(
    ([table, poles]) => `
CREATE TRIGGER ${table}_change_register AFTER INSERT ON ${table}
BEGIN INSERT INTO register_stale ${poles} ON CONFLICT DO NOTHING; END;`,
  )
  .join('');

export const register = {
  name: '20261127T170000_register',
  up: `${tables}${Object.values(ROW_INDEXES).join(';\n')};${triggers}`,
};
