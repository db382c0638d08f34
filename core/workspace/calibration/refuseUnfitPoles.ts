import type { Kysely } from 'kysely';
import { InputError } from '../../errors.ts';
import { describePole } from '../../inference/index.ts';
import type { RequirementProfile, VisitFile } from '../../recording/index.ts';
import { requirementFromLoads } from '../../strength/index.ts';
import type { Tables } from '../tables.ts';
import { decodeVisitFile } from '../visits.repository.ts';
import { listVisitsOfPoles } from './listVisitsOfPoles.ts';

const POLES_AT_ONCE = 200;
const MOST_NAMED = 5;

/**
 * Lays the loads of a profile against each pole as its last visit has it; one that states its own requirement, or makes no pole, is let be.
 * @throws InputError `profile.unfit` naming the poles that cannot carry them where they act
 */
export async function refuseUnfitPoles(
  db: Kysely<Tables>,
  profile: RequirementProfile,
  poleCodes: readonly string[],
): Promise<void> {
  const unfit: { code: string; problem: InputError }[] = [];
  for (let at = 0; at < poleCodes.length; at += POLES_AT_ONCE) {
    const visits = await listVisitsOfPoles(db, poleCodes.slice(at, at + POLES_AT_ONCE));
    for (const [code, own] of visits) {
      const { fileBytes, fileName } = own.at(-1)!;
      const problem = findProblem(profile, decodeVisitFile(fileBytes, fileName));
      if (problem) unfit.push({ code, problem });
    }
  }
  const [first] = unfit;
  if (!first) return;
  const named = unfit.slice(0, MOST_NAMED).map(({ code }) => code);
  const more = unfit.length > MOST_NAMED ? ` and ${unfit.length - MOST_NAMED} more` : '';
  throw new InputError(
    'profile.unfit',
    `These loads do not go with ${named.join(', ')}${more}. ${first.code}: ${first.problem.message}`,
    first.problem.hint,
  );
}

function findProblem(profile: RequirementProfile, visit: VisitFile): InputError | null {
  if (visit.requirement) return null;
  const pole = orError(() => describePole(visit, 'bedded'));
  if (pole instanceof InputError) return null;
  const { shape, lengthM, settingDepthM } = pole;
  const required = orError(() =>
    requirementFromLoads(profile, {
      tipHeightM: lengthM - settingDepthM,
      groundlineDiameterM: shape.diametersM[0]!,
      tipDiameterM: shape.diametersM.at(-1)!,
    }),
  );
  return required instanceof InputError ? required : null;
}

function orError<T>(work: () => T): T | InputError {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}
