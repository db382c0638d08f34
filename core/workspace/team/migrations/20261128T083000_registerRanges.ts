import { INDEXED_COLUMNS } from '../../migrations/20261127T170000_register.ts';
import { TEXT } from './words.ts';

/**
 * How many visits of each facet stand in each range of an order: a jump into the middle of a long list begins at the nearest bound, where
 * it would have to pass by every entry of an index before. A workspace file is walked three times as fast and has none. Nothing is
 * counted as long as there are no bounds.
 */
const tables = `
CREATE TABLE register_bounds (
  column_name ${TEXT} NOT NULL,
  number double precision,
  text ${TEXT},
  place ${TEXT} NOT NULL
);
CREATE INDEX register_bounds_of_column ON register_bounds (column_name);

CREATE TABLE register_counts (
  column_name ${TEXT} NOT NULL,
  range_number bigint NOT NULL,
  facet_id bigint NOT NULL,
  visits bigint NOT NULL,
  PRIMARY KEY (column_name, facet_id, range_number)
);
`;

/** A row stands in the range of as many bounds as stand at it or ahead of it, in the direction of the index. */
const parts = INDEXED_COLUMNS.map(({ column, kind, direction }) => {
  const sign = direction === 'DESC' ? '>' : '<';
  const isAhead =
    kind === 'place'
      ? 'bound.place <= own.place'
      : `(bound.${kind} ${sign} own.value OR (bound.${kind} = own.value AND bound.place <= own.place))`;
  const held = kind === 'place' ? 'own.place IS NOT NULL' : 'own.value IS NOT NULL';
  const ownValue = (row: string) => (kind === 'place' ? 'NULL' : `${row}.${column}`);
  return `
    SELECT '${column}' AS column_name, own.facet_id, own.change,
      (SELECT count(*) FROM register_bounds AS bound WHERE bound.column_name = '${column}' AND ${isAhead}) AS range_number
    FROM (VALUES (-1, ${ownValue('OLD')}, OLD.place, OLD.facet_id), (1, ${ownValue('NEW')}, NEW.place, NEW.facet_id))
      AS own (change, value, place, facet_id) WHERE ${held}`;
});

const trigger = `
CREATE FUNCTION count_register() RETURNS trigger LANGUAGE plpgsql SET search_path = stemroot, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM register_bounds) THEN RETURN NULL; END IF;
  INSERT INTO register_counts AS kept (column_name, range_number, facet_id, visits)
  SELECT column_name, range_number, facet_id, sum(change) FROM (${parts.join(' UNION ALL')}) AS changes
  GROUP BY column_name, range_number, facet_id HAVING sum(change) <> 0
  ON CONFLICT (column_name, facet_id, range_number) DO UPDATE SET visits = kept.visits + excluded.visits;
  RETURN NULL;
END $$;
CREATE TRIGGER register_rows_counted AFTER INSERT OR UPDATE OR DELETE ON register_rows
  FOR EACH ROW EXECUTE FUNCTION count_register();
`;

export const registerRanges = { name: '20261128T083000_registerRanges', up: tables + trigger };
