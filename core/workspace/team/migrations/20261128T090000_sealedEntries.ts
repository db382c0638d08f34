import { MOVE_MARK } from '../../moving/moveMark.ts';
import { WRITER_LOCK } from './20261127T063000_trail.ts';

/**
 * The database also computes the hash of an entry, over the canonical JSON (RFC 8785) of its columns that hold something but the hash
 * itself: PostgreSQL writes texts and whole numbers in JSON as that standard does. An entry names what was written with it and nothing
 * else; the keeper, who moves a store, names rows again that came with an earlier entry.
 */
const followLastEntry = `
CREATE OR REPLACE FUNCTION follow_last_entry() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = stemroot, pg_temp AS $$
DECLARE
  last record;
  canonical text;
  named bigint;
BEGIN
  PERFORM pg_advisory_xact_lock(${WRITER_LOCK});
  SELECT seq, sha256 INTO last FROM trail ORDER BY seq DESC LIMIT 1;
  IF NEW.seq <> coalesce(last.seq, 0) + 1 OR NEW.previous_sha256 <> coalesce(last.sha256, repeat('0', 64)) THEN
    RAISE EXCEPTION 'Entry % does not follow the last entry of the trail', NEW.seq USING ERRCODE = 'restrict_violation';
  END IF;
  SELECT '{' || string_agg(to_json(key)::text || ':' || value::text, ',' ORDER BY key COLLATE "C") || '}' INTO canonical
    FROM json_each(row_to_json(NEW)) WHERE key <> 'sha256' AND json_typeof(value) <> 'null';
  IF NEW.sha256 <> encode(sha256(convert_to(canonical, 'UTF8')), 'hex') THEN
    RAISE EXCEPTION 'The hash of entry % is not that of what it holds', NEW.seq USING ERRCODE = 'restrict_violation';
  END IF;
  DELETE FROM touched USING json_array_elements(NEW.rows_json::json) AS told
    WHERE xact = pg_current_xact_id() AND table_name = told ->> 0 AND row_key = told ->> 1;
  GET DIAGNOSTICS named = ROW_COUNT;
  IF named <> json_array_length(NEW.rows_json::json) AND NOT pg_has_role(session_user, current_user, 'USAGE') THEN
    RAISE EXCEPTION 'Entry % names rows that were not written with it', NEW.seq USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END $$;
`;

/** As long as the mark stands nobody may change anything, so nobody but the keeper, whom no policy holds, sets it or takes it away. */
const keepersMark = `
ALTER TABLE kept_choices ENABLE ROW LEVEL SECURITY;
CREATE POLICY all_are_read ON kept_choices FOR SELECT USING (true);
CREATE POLICY the_mark_is_the_keepers ON kept_choices USING (name <> '${MOVE_MARK}');
`;

export const sealedEntries = { name: '20261128T090000_sealedEntries', up: followLastEntry + keepersMark };
