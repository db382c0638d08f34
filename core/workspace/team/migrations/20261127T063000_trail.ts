import { freezeTable } from './freezeTable.ts';
import { watchTable } from './watchTable.ts';
import { json, TEXT } from './words.ts';

/** Whoever adds to the trail or writes anything at all waits for this one lock: the chain has one end. */
export const WRITER_LOCK = 0x53746d72;

/**
 * The trail, as in a workspace file. The database itself holds that an entry follows the last one, and that no transaction commits
 * a row that none of its entries names.
 */
const table = `
CREATE TABLE trail (
  seq bigint PRIMARY KEY CHECK (seq > 0),
  at ${TEXT} NOT NULL,
  who ${TEXT} NOT NULL CHECK (length(trim(who)) > 0),
  program ${TEXT} NOT NULL,
  action ${TEXT} NOT NULL CHECK (length(trim(action)) > 0),
  subject ${TEXT} NOT NULL,
  before_json ${TEXT} ${json('before_json')},
  after_json ${TEXT} ${json('after_json')},
  why ${TEXT},
  rows_json ${TEXT} NOT NULL ${json('rows_json')},
  previous_sha256 ${TEXT} NOT NULL UNIQUE,
  sha256 ${TEXT} NOT NULL UNIQUE
);

CREATE UNLOGGED TABLE touched (
  xact xid8 NOT NULL DEFAULT pg_current_xact_id(),
  table_name ${TEXT} NOT NULL,
  row_key ${TEXT} NOT NULL,
  PRIMARY KEY (xact, table_name, row_key)
);

CREATE FUNCTION refuse_untold() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = stemroot, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM touched
    WHERE xact = NEW.xact AND table_name = NEW.table_name AND row_key = NEW.row_key) THEN
    RAISE EXCEPTION 'A change to % has no entry in the trail', NEW.table_name USING ERRCODE = 'STR01';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER touched_told AFTER INSERT ON touched DEFERRABLE INITIALLY DEFERRED
  FOR EACH ROW EXECUTE FUNCTION refuse_untold();

CREATE FUNCTION follow_last_entry() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = stemroot, pg_temp AS $$
DECLARE last record;
BEGIN
  PERFORM pg_advisory_xact_lock(${WRITER_LOCK});
  SELECT seq, sha256 INTO last FROM trail ORDER BY seq DESC LIMIT 1;
  IF NEW.seq <> coalesce(last.seq, 0) + 1 OR NEW.previous_sha256 <> coalesce(last.sha256, repeat('0', 64)) THEN
    RAISE EXCEPTION 'Entry % does not follow the last entry of the trail', NEW.seq USING ERRCODE = 'restrict_violation';
  END IF;
  DELETE FROM touched USING json_array_elements(NEW.rows_json::json) AS told
    WHERE xact = pg_current_xact_id() AND table_name = told ->> 0 AND row_key = told ->> 1;
  RETURN NEW;
END $$;
CREATE TRIGGER trail_follows BEFORE INSERT ON trail FOR EACH ROW EXECUTE FUNCTION follow_last_entry();
`;

const EARLIER_TABLES: Readonly<Record<string, readonly string[]>> = {
  poles: ['pole_id'],
  visits: ['visit_id'],
  recordings: ['sha256'],
  visit_recordings: ['visit_id', 'position'],
  assessments: ['assessment_id'],
  rulings: ['ruling_id'],
  ruling_marks: ['mark_id'],
};

export const trail = {
  name: '20261127T063000_trail',
  up:
    table +
    freezeTable('trail') +
    Object.entries(EARLIER_TABLES)
      .map(([name, key]) => watchTable(name, key))
      .join('\n'),
};
