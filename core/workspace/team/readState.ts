import { type Kysely, sql } from 'kysely';
import { MOVE_MARK } from '../moving/moveMark.ts';
import type { Tables } from '../tables.ts';
import type { Right } from './roles.ts';

export type TeamState = {
  /** Migrations that the store has had; 0: it is not there; null: this connection may not see it. */
  form: number | null;
  may: Right | null;
  /** A move into it is not complete. */
  movedInPart: boolean;
};

/** Looks at a database before anything is asked of its tables: whether a team store is there, and what this connection may do in it. */
export async function readState(db: Kysely<Tables>): Promise<TeamState> {
  const { rows } = await sql<{ there: boolean; usable: boolean | null }>`
    SELECT to_regnamespace('stemroot') IS NOT NULL AS there,
      has_schema_privilege(to_regnamespace('stemroot')::oid, 'USAGE') AS usable`.execute(db);
  const { there, usable } = rows[0]!;
  if (!there) return { form: 0, may: null, movedInPart: false };
  if (!usable) return { form: null, may: null, movedInPart: false };
  const forms = await sql<{ form: number }>`SELECT count(*) AS form FROM stemroot.forms`.execute(db);
  const { rows: rights } = await sql<Record<Right, boolean>>`
    SELECT has_table_privilege('stemroot.visits', 'SELECT') AS read,
      has_table_privilege('stemroot.assessments', 'INSERT') AS analyse,
      has_table_privilege('stemroot.calibrations', 'INSERT') AS publish`.execute(db);
  const may = (['publish', 'analyse', 'read'] as const).find((right) => rights[0]![right]) ?? null;
  const movedInPart = may !== null && (await hasMoveMark(db));
  return { form: forms.rows[0]!.form, may, movedInPart };
}

async function hasMoveMark(db: Kysely<Tables>): Promise<boolean> {
  const { rows } = await sql`SELECT 1 FROM stemroot.kept_choices WHERE name = ${MOVE_MARK}`.execute(db);
  return rows.length > 0;
}
