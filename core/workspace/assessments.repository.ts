import { brotliDecompressSync } from 'node:zlib';
import type { Kysely } from 'kysely';
import {
  type Assessment,
  type AssessmentFailure,
  assessmentSchema,
  failureSchema,
  type PickDecision,
  type StemRootPicture,
  stemRootPictureSchema,
} from '../assessment.ts';
import { PROGRAM } from '../program.ts';
import { compressBrotli } from './compression.ts';
import { hashSha256 } from './hashes.ts';
import { summarise } from './summarise.ts';
import type { Tables } from './tables.ts';

type Db = Kysely<Tables>;

export type NewAssessment = {
  visitId: number;
  visitFileSha256: string;
  recordings: readonly { fileName: string; sha256: string }[];
  decisions: readonly PickDecision[];
  result: Assessment | AssessmentFailure;
  picture: StemRootPicture | null;
};

export type StoredAssessment = {
  assessmentId: number;
  decisions: PickDecision[];
  result: Assessment | AssessmentFailure;
  picture: StemRootPicture | null;
};

/** Stores a result with everything that it came from. Equal inputs have equal `inputs_sha256`. */
export async function insertAssessment(db: Db, added: NewAssessment): Promise<number> {
  const decisionsJson = JSON.stringify(added.decisions);
  const inputsJson = JSON.stringify({ visitFile: added.visitFileSha256, recordings: added.recordings });
  const settingsJson = JSON.stringify(describeSettings(added.result));
  const { assessment_id } = await db
    .insertInto('assessments')
    .values({
      visit_id: added.visitId,
      created_at: new Date().toISOString(),
      program: PROGRAM,
      verdict: added.result.verdict,
      decisions_json: decisionsJson,
      settings_json: settingsJson,
      inputs_json: inputsJson,
      inputs_sha256: hashSha256([inputsJson, decisionsJson, settingsJson, PROGRAM].join('\n')),
      result_json: JSON.stringify(added.result),
      summary_json: JSON.stringify(summarise(added.result)),
      picture_brotli: added.picture && compressBrotli(JSON.stringify(added.picture)),
    })
    .returning('assessment_id')
    .executeTakeFirstOrThrow();
  return assessment_id;
}

function describeSettings(result: Assessment | AssessmentFailure) {
  if (result.verdict === 'failed' || !('provenance' in result)) return {};
  return {
    seed: result.provenance.seed,
    calibration: result.strength?.calibration ?? null,
    root: result.root?.model ?? null,
  };
}

/** The assessment stored last for a visit. */
export async function findLatestAssessment(db: Db, visitId: number): Promise<StoredAssessment | null> {
  const row = await db
    .selectFrom('assessments')
    .select(['assessment_id', 'decisions_json', 'result_json', 'picture_brotli'])
    .where('visit_id', '=', visitId)
    .orderBy('assessment_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (!row) return null;
  return {
    assessmentId: row.assessment_id,
    decisions: JSON.parse(row.decisions_json),
    result: parseResult(row.assessment_id, row.result_json),
    picture: row.picture_brotli && readPicture(row.picture_brotli),
  };
}

/** A picture is some ten thousand numbers; more is no picture. */
const LARGEST_PICTURE_BYTES = 2 * 1024 * 1024;

/** A picture that cannot be read is none: it is drawn anew with the next assessment. */
function readPicture(compressed: Uint8Array): StemRootPicture | null {
  try {
    const text = brotliDecompressSync(compressed, { maxOutputLength: LARGEST_PICTURE_BYTES }).toString(
      'utf8',
    );
    return stemRootPictureSchema.parse(JSON.parse(text));
  } catch {
    return null;
  }
}

/** A result that this program cannot read is told as a failure, so that the visit can be opened and assessed again. */
function parseResult(assessmentId: number, json: string): Assessment | AssessmentFailure {
  const raw = JSON.parse(json);
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
