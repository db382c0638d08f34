import { ROW_INDEXES } from '../../migrations/20261127T170000_register.ts';
import { COMPOSITION } from '../../register/composition.ts';
import { ID, TEXT } from './words.ts';

/**
 * The register as stored rows, as in a workspace file. Parts of words are found by the trigram index of pg_trgm where the server has
 * that extension and lets it in; else the same search goes through the rows one by one.
 */
const tables = `
CREATE TABLE register_rows (
  visit_id bigint PRIMARY KEY,
  place ${TEXT} NOT NULL,
  facet_id bigint NOT NULL,
  measured_on ${TEXT} NOT NULL,
  need double precision,
  f1 double precision,
  f2 double precision,
  f3 double precision,
  modulus double precision,
  fixity double precision,
  capacity double precision,
  requirement double precision,
  chance double precision,
  threshold double precision,
  threshold_chance double precision,
  ruled_at ${TEXT},
  own_words ${TEXT} NOT NULL
);

CREATE TABLE register_texts (
  visit_id bigint PRIMARY KEY,
  row_json ${TEXT} NOT NULL
);

CREATE TABLE register_facets (
  facet_id ${ID},
  facet_sha256 ${TEXT} NOT NULL UNIQUE,
  facet_json ${TEXT} NOT NULL,
  visits bigint NOT NULL
);

CREATE TABLE register_stale (pole_id bigint PRIMARY KEY);
CREATE TABLE register_state (revision bigint NOT NULL, composition bigint NOT NULL);
INSERT INTO register_state VALUES (0, CASE WHEN EXISTS (SELECT 1 FROM poles) THEN 0 ELSE ${COMPOSITION} END);
`;

/** Trusted since PostgreSQL 13: whoever may create in the database may let it in (PostgreSQL 15 documentation, F.35). */
export const WORD_INDEX = `
DO $$
DECLARE home text;
BEGIN
  BEGIN
    CREATE EXTENSION IF NOT EXISTS pg_trgm;
  EXCEPTION WHEN insufficient_privilege OR undefined_file OR feature_not_supported THEN
    NULL;
  END;
  SELECT nspname INTO home FROM pg_extension JOIN pg_namespace ON pg_namespace.oid = extnamespace
    WHERE extname = 'pg_trgm';
  IF home IS NOT NULL THEN
    EXECUTE format('CREATE INDEX IF NOT EXISTS register_by_words ON register_rows USING gin (own_words %I.gin_trgm_ops)', home);
  END IF;
END $$;
`;

const ofVisit = 'SELECT pole_id FROM visits WHERE visit_id = NEW.visit_id';

const STALE_BY: Readonly<Record<string, string>> = {
  visits: 'SELECT NEW.pole_id',
  visit_recordings: ofVisit,
  assessments: ofVisit,
  rulings: ofVisit,
  ruling_marks: 'SELECT pole_id FROM visits JOIN rulings USING (visit_id) WHERE ruling_id = NEW.ruling_id',
};

const triggers = Object.entries(STALE_BY)
  .map(
    ([table, poles]) => `
CREATE FUNCTION ${table}_change_register() RETURNS trigger LANGUAGE plpgsql SET search_path = stemroot, pg_temp AS $$
BEGIN
  INSERT INTO register_stale ${poles} ON CONFLICT DO NOTHING;
  RETURN NULL;
END $$;
CREATE TRIGGER ${table}_change_register AFTER INSERT ON ${table}
  FOR EACH ROW EXECUTE FUNCTION ${table}_change_register();`,
  )
  .join('');

export const register = {
  name: '20261127T170000_register',
  up: `${tables}${Object.values(ROW_INDEXES).join(';\n')};${WORD_INDEX}${triggers}`,
};
