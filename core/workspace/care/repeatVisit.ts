import type { Kysely } from 'kysely';
import { type AnalysedVisit, concludeVisit } from '../../assess.ts';
import type { Assessment, StemRootPicture } from '../../assessment.ts';
import { type Decision, decisionsSchema } from '../../decisions.ts';
import { StemrootError, StoreError } from '../../errors.ts';
import { PROGRAM } from '../../program.ts';
import { requirementProfileSchema, type VisitFile } from '../../recording/index.ts';
import { type Calibration, calibrationFromDocument } from '../../strength/index.ts';
import { describeFailure } from '../assessStored.ts';
import { HANDBOOK } from '../calibration/calibrations.repository.ts';
import { concludeAnew } from '../calibration/concludeAnew.ts';
import { giveRequirement, type ProfileInUse } from '../calibration/profiles.repository.ts';
import { decompressBrotli } from '../compression.ts';
import type { Tables } from '../tables.ts';
import { getVisit } from '../visits.repository.ts';
import { compareResults, type ResultDifference } from './compareResults.ts';

/** A picture is some ten thousand numbers. */
const LARGEST_PICTURE_BYTES = 2 * 1024 ** 2;
/** The greatest differences tell enough. */
const SHOWN_DIFFERENCES = 10;

export type Repeat = {
  assessmentId: number;
  createdAt: string;
  /** Program and version that stored the result, and this one. */
  program: string;
  programNow: string;
  /** The same bytes came out, of the result and of the picture of stem and root. */
  same: boolean;
  samePicture: boolean;
  /** Values of the result that differ. */
  differences: number;
  /** Of these, the greatest by relative difference. */
  greatest: ResultDifference[];
};

type Db = Kysely<Tables>;

/** Settings that a result was stored with; what a version does not know is left out. */
type Settings = { calibrationSha256?: string; profileId?: number };

/**
 * Runs every stored assessment of a visit again from what is stored: its visit file, its recordings, its decisions, the calibration
 * and the requirement profile that it names. Results brought under another calibration are run again from their basis.
 * @param analyse - a stored visit as analysed with decisions
 */
export async function repeatVisit(
  db: Db,
  visitId: number,
  analyse: (visitId: number, decisions: readonly Decision[]) => Promise<AnalysedVisit>,
): Promise<Repeat[]> {
  const { fileName, visit } = await getVisit(db, visitId);
  const rows = await db
    .selectFrom('assessments')
    .leftJoin('assessments as basis', 'basis.assessment_id', 'assessments.basis_id')
    .selectAll('assessments')
    .select('basis.result_json as basis_json')
    .where('assessments.visit_id', '=', visitId)
    .orderBy('assessments.assessment_id')
    .execute();
  const repeats: Repeat[] = [];
  for (const row of rows) {
    const settings = JSON.parse(row.settings_json) as Settings;
    const calibration = await findCalibration(db, settings.calibrationSha256);
    const inUse = await findProfile(db, settings.profileId);
    let now: { result: unknown; picture: StemRootPicture | null };
    if (row.basis_json !== null) {
      now = {
        result: concludeAnew(
          JSON.parse(row.basis_json) as Assessment,
          giveRequirement(visit, inUse),
          calibration,
        ),
        picture: null,
      };
    } else {
      const decisions = decisionsSchema.parse(JSON.parse(row.decisions_json));
      now = await runChain(fileName, visit, async () => {
        const analysed = await analyse(visitId, decisions);
        const input = { ...analysed.input, visit: giveRequirement(analysed.input.visit, inUse) };
        return concludeVisit({ ...analysed, input }, decisions, calibration);
      });
    }
    repeats.push({
      ...compareWithStored(row, now),
      assessmentId: row.assessment_id,
      createdAt: row.created_at,
    });
  }
  return repeats;
}

async function runChain(
  fileName: string,
  visit: VisitFile,
  run: () => Promise<{ assessment: Assessment; picture: StemRootPicture | null }>,
): Promise<{ result: unknown; picture: StemRootPicture | null }> {
  try {
    const { assessment, picture } = await run();
    return { result: assessment, picture };
  } catch (error) {
    if (!(error instanceof StemrootError)) throw error;
    return { result: describeFailure(fileName, visit.pole.id, error), picture: null };
  }
}

function compareWithStored(
  row: { program: string; result_json: string; picture_brotli: Uint8Array | null; basis_json: string | null },
  now: { result: unknown; picture: StemRootPicture | null },
) {
  const stored = JSON.parse(row.result_json) as Record<string, unknown>;
  // why it differs from the result before is no part of what is worked out anew
  if (row.basis_json !== null) delete stored.reasons;
  const picture = row.picture_brotli && String(decompressBrotli(row.picture_brotli, LARGEST_PICTURE_BYTES));
  const pictureNow = now.picture && JSON.stringify(now.picture);
  const result = JSON.stringify(now.result);
  const differences = JSON.stringify(stored) === result ? [] : compareResults(stored, JSON.parse(result));
  const samePicture = picture === pictureNow;
  return {
    program: row.program,
    programNow: PROGRAM,
    same: JSON.stringify(stored) === result && samePicture,
    samePicture,
    differences: differences.length,
    greatest: differences.slice(-SHOWN_DIFFERENCES).reverse(),
  };
}

async function findCalibration(db: Db, sha256: string | undefined): Promise<Calibration> {
  if (sha256 === undefined) return HANDBOOK.calibration;
  const row = await db
    .selectFrom('calibrations')
    .select('document_json')
    .where('document_sha256', '=', sha256)
    .executeTakeFirst();
  if (row) return calibrationFromDocument(JSON.parse(row.document_json));
  throw new StoreError(
    'store.damaged',
    `The calibration ${sha256.slice(0, 12)} that a result names is not in the workspace.`,
    'Look into the file with: npm run -s stemroot -- care prove <workspace>',
  );
}

async function findProfile(db: Db, profileId: number | undefined): Promise<ProfileInUse | undefined> {
  if (profileId === undefined) return undefined;
  const row = await db
    .selectFrom('requirement_profiles')
    .select('profile_json')
    .where('profile_id', '=', profileId)
    .executeTakeFirstOrThrow();
  return { profileId, profile: requirementProfileSchema.parse(JSON.parse(row.profile_json)) };
}
