import type { Kysely } from 'kysely';
import { InputError } from '../../errors.ts';
import { type RequirementProfile, requirementProfileSchema, type VisitFile } from '../../recording/index.ts';
import type { Tables } from '../tables.ts';
import { tellConflict } from '../tellConflict.ts';
import { appendTrail } from '../trail/index.ts';

type Db = Kysely<Tables>;

export type KeptProfile = {
  profileId: number;
  name: string;
  number: number;
  author: string;
  keptAt: string;
  profile: RequirementProfile;
  /** Poles that are compared with it. */
  poles: number;
};

/** Every version of every profile, newest first. */
export async function listProfiles(db: Db): Promise<KeptProfile[]> {
  const rows = await db
    .selectFrom('requirement_profiles')
    .selectAll()
    .orderBy('profile_id', 'desc')
    .execute();
  const inUse = [...(await readProfilesInUse(db)).values()];
  return rows.map((row) => ({
    profileId: row.profile_id,
    name: row.name,
    number: row.number,
    author: row.author,
    keptAt: row.kept_at,
    profile: requirementProfileSchema.parse(JSON.parse(row.profile_json)),
    poles: inUse.filter(({ profileId }) => profileId === row.profile_id).length,
  }));
}

/** Keeps a profile as the next version of its name. */
export async function insertProfile(
  db: Db,
  profile: RequirementProfile,
  author: string,
): Promise<{ profileId: number; number: number }> {
  return db.transaction().execute(async (transaction) => {
    const last = await transaction
      .selectFrom('requirement_profiles')
      .select((eb) => eb.fn.max('number').as('number'))
      .where('name', '=', profile.name)
      .executeTakeFirst();
    const number = (last?.number ?? 0) + 1;
    const { profile_id } = await transaction
      .insertInto('requirement_profiles')
      .values({
        name: profile.name,
        number,
        profile_json: JSON.stringify(profile),
        author,
        kept_at: new Date().toISOString(),
      })
      .returning('profile_id')
      .executeTakeFirstOrThrow();
    await appendTrail(transaction, {
      action: 'set',
      subject: `requirement profile ${profile.name}, version ${number}`,
      who: author,
    });
    return { profileId: profile_id, number };
  });
}

/**
 * Has poles compared with a profile from their next assessment or recompute on.
 * @param profileId - null: with their class again
 * @param choice.seenChoice - {@link readLastProfileChoice} when it was chosen; absent: nobody looked
 * @throws InputError `profile.unknown`, `pole.unknown`; StoreError `store.conflict` where one of the poles got another choice since
 */
export async function chooseProfile(
  db: Db,
  profileId: number | null,
  poleCodes: readonly string[],
  { chosenBy, seenChoice }: { chosenBy: string; seenChoice?: number | undefined },
): Promise<void> {
  await db.transaction().execute(async (transaction) => {
    const profile = profileId === null ? null : await findProfile(transaction, profileId);
    const poles = await transaction
      .selectFrom('poles')
      .select(['pole_id', 'code'])
      .where('code', 'in', poleCodes)
      .execute();
    const known = new Set(poles.map(({ code }) => code));
    const unknown = poleCodes.filter((code) => !known.has(code));
    if (unknown.length > 0) {
      throw new InputError(
        'pole.unknown',
        `There is no pole ${unknown.slice(0, 5).join(', ')} in this workspace.`,
        'Give codes of poles as the register has them.',
      );
    }
    if (seenChoice !== undefined) await refuseOvertaken(transaction, poles, seenChoice);
    const now = new Date().toISOString();
    for (const { pole_id } of poles) {
      await transaction
        .insertInto('profile_choices')
        .values({ pole_id, profile_id: profileId, chosen_at: now, chosen_by: chosenBy })
        .execute();
    }
    await appendTrail(transaction, {
      action: 'set',
      subject: `requirement of ${poles.length} poles`,
      who: chosenBy,
      after: profile ? `${profile.name}, version ${profile.number}` : 'class load',
    });
  });
}

/** @throws StoreError `store.conflict` */
async function refuseOvertaken(
  db: Db,
  poles: readonly { pole_id: number; code: string }[],
  seenChoice: number,
): Promise<void> {
  const codes = new Map(poles.map(({ pole_id, code }) => [pole_id, code]));
  const since = await db
    .selectFrom('profile_choices')
    .selectAll()
    .where('choice_id', '>', seenChoice)
    .orderBy('choice_id', 'desc')
    .execute();
  const newer = since.find(({ pole_id }) => codes.has(pole_id));
  if (!newer) return;
  const before = await db
    .selectFrom('profile_choices')
    .select('profile_id')
    .where('pole_id', '=', newer.pole_id)
    .where('choice_id', '<=', seenChoice)
    .orderBy('choice_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  throw tellConflict(
    `What is asked of pole ${codes.get(newer.pole_id)}`,
    await nameChoice(db, before?.profile_id ?? null),
    { words: await nameChoice(db, newer.profile_id), by: newer.chosen_by, at: newer.chosen_at },
  );
}

async function nameChoice(db: Db, profileId: number | null): Promise<string> {
  if (profileId === null) return 'the load of its class';
  const { name, number } = await findProfile(db, profileId);
  return `${name}, version ${number}`;
}

/** @throws InputError `profile.unknown` */
export async function findProfile(
  db: Db,
  profileId: number,
): Promise<Pick<KeptProfile, 'name' | 'number' | 'profile'>> {
  const row = await db
    .selectFrom('requirement_profiles')
    .select(['name', 'number', 'profile_json'])
    .where('profile_id', '=', profileId)
    .executeTakeFirst();
  if (row) {
    const { name, number, profile_json } = row;
    return { name, number, profile: requirementProfileSchema.parse(JSON.parse(profile_json)) };
  }
  throw new InputError(
    'profile.unknown',
    `There is no requirement profile ${profileId} in this workspace.`,
    'List the profiles for those that are there.',
  );
}

/** Grows with every choice of a profile for a pole: two equal figures, and nothing was chosen in between. */
export async function readLastProfileChoice(db: Db): Promise<number> {
  const row = await db
    .selectFrom('profile_choices')
    .select((eb) => eb.fn.max('choice_id').as('last'))
    .executeTakeFirst();
  return row?.last ?? 0;
}

export type ProfileInUse = { profileId: number; profile: RequirementProfile };

/** The profile that each pole is compared with, by pole; poles without one are compared with their class. */
export async function readProfilesInUse(db: Db): Promise<Map<number, ProfileInUse>> {
  const rows = await db
    .selectFrom('profile_choices as choice')
    .innerJoin('requirement_profiles as kept', 'kept.profile_id', 'choice.profile_id')
    .select(['choice.pole_id', 'kept.profile_id', 'kept.profile_json'])
    .where('choice.choice_id', 'in', (eb) =>
      eb
        .selectFrom('profile_choices')
        .select((inner) => inner.fn.max('choice_id').as('last'))
        .groupBy('pole_id'),
    )
    .execute();
  const parsed = new Map<number, RequirementProfile>();
  return new Map(
    rows.map(({ pole_id, profile_id, profile_json }) => {
      const profile = parsed.get(profile_id) ?? requirementProfileSchema.parse(JSON.parse(profile_json));
      parsed.set(profile_id, profile);
      return [pole_id, { profileId: profile_id, profile }];
    }),
  );
}

/** The profile that one pole is compared with. */
export async function findProfileOfVisit(db: Db, visitId: number): Promise<ProfileInUse | undefined> {
  const row = await db
    .selectFrom('visits')
    .innerJoin('profile_choices as choice', 'choice.pole_id', 'visits.pole_id')
    .leftJoin('requirement_profiles as kept', 'kept.profile_id', 'choice.profile_id')
    .select(['kept.profile_id', 'kept.profile_json'])
    .where('visits.visit_id', '=', visitId)
    .orderBy('choice.choice_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (!row?.profile_json || row.profile_id === null) return undefined;
  return {
    profileId: row.profile_id,
    profile: requirementProfileSchema.parse(JSON.parse(row.profile_json)),
  };
}

/** A visit that states no requirement of its own, with the loads of a profile. */
export function giveRequirement(visit: VisitFile, inUse: ProfileInUse | undefined): VisitFile {
  return visit.requirement || !inUse ? visit : { ...visit, requirement: { loads: inUse.profile } };
}
