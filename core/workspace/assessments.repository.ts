import type { Kysely } from 'kysely';
import {
  type Assessment,
  type AssessmentFailure,
  assessmentSchema,
  failureSchema,
  type StemRootPicture,
  stemRootPictureSchema,
} from '../assessment.ts';
import { type Decision, decisionsSchema } from '../decisions.ts';
import { hashSha256 } from '../hashSha256.ts';
import { PROGRAM } from '../program.ts';
import { composePicture, composeResult } from './calibration/composeResult.ts';
import { compressBrotli, decompressBrotli } from './compression.ts';
import { summarise } from './summarise.ts';
import type { Tables } from './tables.ts';

type Db = Kysely<Tables>;

export type NewAssessment = {
  visitId: number;
  /** Of the document of the calibration; null: the handbook's. */
  calibrationSha256: string | null;
  /** The requirement profile that the visit was compared with; null: its own requirement, or its class. */
  profileId: number | null;
  visitFileSha256: string;
  recordings: readonly { fileName: string; sha256: string }[];
  decisions: readonly Decision[];
  result: Assessment | AssessmentFailure;
  picture: StemRootPicture | null;
};

export type StoredAssessment = {
  assessmentId: number;
  decisions: Decision[];
  result: Assessment | AssessmentFailure;
  picture: StemRootPicture | null;
};

/** A result as it is stored, with everything that it came from. */
export type AssessmentRow = ReturnType<typeof composeAssessment>;

/**
 * Writes a result down as a row, compressed: before the change begins that stores it, since all who write wait for its end. Equal
 * inputs have equal `inputs_sha256`.
 */
export function composeAssessment(added: NewAssessment) {
  return {
    visit_id: added.visitId,
    program: PROGRAM,
    verdict: added.result.verdict,
    ...describeInputs(added),
    result_json: JSON.stringify(added.result),
    summary_json: JSON.stringify(summarise(added.result)),
    picture_brotli: added.picture && compressBrotli(JSON.stringify(added.picture)),
  };
}

/** Stores a result. @returns its identity */
export async function insertAssessment(db: Db, row: AssessmentRow): Promise<number> {
  const { assessment_id } = await db
    .insertInto('assessments')
    .values({ ...row, created_at: new Date().toISOString() })
    .returning('assessment_id')
    .executeTakeFirstOrThrow();
  return assessment_id;
}

/** Identity of a stored result of a visit with the same inputs, written by the same version of the program; null where there is none. */
export async function findSameAssessment(
  db: Db,
  { visit_id, inputs_sha256 }: Pick<AssessmentRow, 'visit_id' | 'inputs_sha256'>,
): Promise<number | null> {
  const row = await db
    .selectFrom('assessments')
    .select('assessment_id')
    .where('visit_id', '=', visit_id)
    .where('inputs_sha256', '=', inputs_sha256)
    .orderBy('assessment_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row?.assessment_id ?? null;
}

function describeInputs(added: NewAssessment) {
  const decisions_json = JSON.stringify(added.decisions);
  const inputs_json = JSON.stringify({ visitFile: added.visitFileSha256, recordings: added.recordings });
  const settings_json = JSON.stringify(describeSettings(added));
  return {
    decisions_json,
    settings_json,
    inputs_json,
    inputs_sha256: hashSha256([inputs_json, decisions_json, settings_json, PROGRAM].join('\n')),
  };
}

function describeSettings({ result, calibrationSha256, profileId }: NewAssessment) {
  const terms = {
    ...(calibrationSha256 !== null && { calibrationSha256 }),
    ...(profileId !== null && { profileId }),
  };
  if (result.verdict === 'failed' || !('provenance' in result)) return terms;
  return {
    seed: result.provenance.seed,
    calibration: result.strength?.calibration ?? null,
    ...terms,
    root: result.root?.model ?? null,
  };
}

/** The assessment stored last for a visit; one that was recomputed, with stem, root and picture of its basis. */
export async function findLatestAssessment(db: Db, visitId: number): Promise<StoredAssessment | null> {
  const row = await db
    .selectFrom('assessments')
    .leftJoin('assessments as basis', 'basis.assessment_id', 'assessments.basis_id')
    .select([
      'assessments.assessment_id',
      'assessments.decisions_json',
      'assessments.result_json',
      'assessments.picture_brotli',
      'basis.result_json as basis_json',
      'basis.picture_brotli as basis_picture',
    ])
    .where('assessments.visit_id', '=', visitId)
    .orderBy('assessments.assessment_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (!row) return null;
  const { assessment_id: assessmentId } = row;
  const decisions = decisionsSchema.parse(JSON.parse(row.decisions_json));
  const own = JSON.parse(row.result_json);
  if (row.basis_json === null) {
    const picture = row.picture_brotli && readPicture(row.picture_brotli);
    return { assessmentId, decisions, result: parseResult(assessmentId, own), picture };
  }
  const picture = row.basis_picture && readPicture(row.basis_picture);
  return {
    assessmentId,
    decisions,
    result: parseResult(assessmentId, composeResult(JSON.parse(row.basis_json), own)),
    picture: picture && composePicture(picture, own),
  };
}

/** A stored result as it was written, whole also where it was recomputed. */
export async function readStoredResult(
  db: Db,
  assessmentId: number,
): Promise<Assessment | AssessmentFailure> {
  const { result_json, basis_json } = await db
    .selectFrom('assessments')
    .leftJoin('assessments as basis', 'basis.assessment_id', 'assessments.basis_id')
    .select(['assessments.result_json', 'basis.result_json as basis_json'])
    .where('assessments.assessment_id', '=', assessmentId)
    .executeTakeFirstOrThrow();
  const own = JSON.parse(result_json);
  return basis_json === null ? own : composeResult(JSON.parse(basis_json), own);
}

/** A picture is some ten thousand numbers; more is no picture. */
const LARGEST_PICTURE_BYTES = 2 * 1024 * 1024;

/** A picture that cannot be read is none: it is drawn anew with the next assessment. */
function readPicture(compressed: Uint8Array): StemRootPicture | null {
  try {
    return stemRootPictureSchema.parse(
      JSON.parse(String(decompressBrotli(compressed, LARGEST_PICTURE_BYTES))),
    );
  } catch {
    return null;
  }
}

/** A result that this program cannot read is told as a failure, so that the visit can be opened and assessed again. */
function parseResult(
  assessmentId: number,
  raw: Assessment | AssessmentFailure,
): Assessment | AssessmentFailure {
  const parsed = ('error' in raw ? failureSchema : assessmentSchema).safeParse(raw);
  if (parsed.success) return parsed.data;
  return {
    visit: String(raw.visit ?? ''),
    poleId: null,
    verdict: 'failed',
    error: {
      code: 'store.result',
      message: `Assessment ${assessmentId} is not of the form that this program reads (field ${parsed.error.issues[0]!.path.join('.')}).`,
      hint: 'Assess the visit again; the old result stays in the workspace.',
    },
  };
}
