import type { Kysely } from 'kysely';
import { InputError } from '../../errors.ts';
import type { VisitFile } from '../../recording/index.ts';
import { type Objection, speakAgainstKeeping } from '../../speakAgainstKeeping.ts';
import { findLatestAssessment } from '../assessments.repository.ts';
import type { rulingCalls } from '../contract/rulingCalls.ts';
import type { Ruling } from '../contract.ts';
import type { HandlersOf } from '../handlers.ts';
import { refuseNewerResult, refuseOtherRuling } from '../refuseOvertaken.ts';
import { readCompared } from '../register/readCompared.ts';
import { refreshVisits } from '../register/refreshPoles.ts';
import {
  getRuling,
  insertRuling,
  listRulings,
  markRuling,
  type NewRuling,
  type RulingOfVisit,
} from '../rulings.repository.ts';
import type { Store } from '../store.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';
import { getVisit } from '../visits.repository.ts';

type Db = Kysely<Tables>;
type Seen = {
  visitId: number;
  poleId?: string;
  assessmentId: number | null;
  seenRulingId?: number | null | undefined;
};
/** Of one visit. */
type ToldObjection = Objection & { pole: string; date: string };
type Said = Pick<NewRuling, 'analyst' | 'decision' | 'reason'> & {
  inSpite?: boolean | undefined;
  secondPerson?: string | undefined;
};

export function createRulingHandlers({ db }: Store): HandlersOf<typeof rulingCalls> {
  const rule = (visits: readonly Seen[], said: Said) =>
    db.transaction().execute(async (transaction) => {
      for (const seen of visits) {
        const { visit } = await getVisit(transaction, seen.visitId);
        refuseOtherPole(seen, visit);
        await refuseOvertaken(transaction, seen, visit);
      }
      if (said.decision === 'keep' && !said.inSpite) await refuseAgainst(transaction, visits);
      const rulings: Ruling[] = [];
      for (const visit of visits) rulings.push(await ruleOn(transaction, { ...visit, ...said }));
      await refreshVisits(
        transaction,
        visits.map(({ visitId }) => visitId),
      );
      return rulings;
    });
  return {
    'visit.rule': async ({ visitId, assessmentId, seenRulingId, ...said }) =>
      (await rule([{ visitId, assessmentId, seenRulingId }], said))[0]!,
    'visits.rule': async ({ visits, ...said }) => ({ rulings: await rule(visits, said) }),
    'ruling.sign': ({ rulingId, person }) =>
      db.transaction().execute(async (transaction) => {
        await sign(transaction, rulingId, person);
        const { visitId, ruling } = await getRuling(transaction, rulingId);
        await refreshVisits(transaction, [visitId]);
        return ruling;
      }),
    'rulings.withdraw': ({ rulingIds, person, reason }) =>
      db.transaction().execute(async (transaction) => {
        const withdrawn: RulingOfVisit[] = [];
        for (const rulingId of rulingIds)
          withdrawn.push(await withdraw(transaction, rulingId, person, reason));
        await refreshVisits(
          transaction,
          withdrawn.map(({ visitId }) => visitId),
        );
        return { rulings: withdrawn.map(({ ruling }) => ruling) };
      }),
  };
}

/** Ids are given anew where another file takes a workspace's place; what was chosen in the one is not meant in the other. */
function refuseOtherPole({ poleId }: Seen, visit: VisitFile): void {
  if (poleId === undefined || poleId === visit.pole.id) return;
  throw new InputError(
    'ruling.otherPole',
    `The visit that was chosen of pole ${poleId} is not in this workspace: under its number there is a visit to pole ${visit.pole.id}.`,
    'Nothing was stored. Choose the visits anew in the register.',
  );
}

async function refuseOvertaken(
  db: Db,
  { visitId, assessmentId, seenRulingId }: Seen,
  visit: VisitFile,
): Promise<void> {
  const name = `pole ${visit.pole.id}, visit of ${visit.measured.date},`;
  await refuseNewerResult(db, `The result of ${name}`, visitId, assessmentId);
  if (seenRulingId !== undefined) {
    await refuseOtherRuling(db, `The ruling on ${name}`, visitId, seenRulingId);
  }
}

/** Of all visits together, so that nobody keeps a pole whose reasons were never read. */
async function refuseAgainst(db: Db, visits: readonly Seen[]): Promise<void> {
  const told: ToldObjection[] = [];
  for (const { visitId } of visits) {
    const { visit } = await getVisit(db, visitId);
    const result = (await findLatestAssessment(db, visitId))?.result ?? null;
    const against = speakAgainstKeeping(result, await readCompared(db, visitId));
    told.push(
      ...against.map((objection) => ({ ...objection, pole: visit.pole.id, date: visit.measured.date })),
    );
  }
  if (told.length === 0) return;
  const poles = new Set(told.map(({ pole }) => pole)).size;
  throw new InputError(
    'ruling.against',
    ['This speaks against keeping:', ...tellByReason(told)].join('\n'),
    `Decide otherwise, or say that ${poles === 1 ? 'the pole is' : `these ${poles} poles are`} kept in spite of that; the reason should tell why.`,
  );
}

/** A line a reason, with its poles; dates where a pole has it of several visits. */
function tellByReason(told: readonly ToldObjection[]): string[] {
  return [...Map.groupBy(told, ({ reason }) => reason)].map(([reason, own]) => {
    const names = own.map(({ pole, date, figure }) => {
      const isAlone = own.filter((other) => other.pole === pole).length === 1;
      const details = [...(isAlone ? [] : [date]), ...(figure === undefined ? [] : [figure])];
      return details.length === 0 ? pole : `${pole} (${details.join(', ')})`;
    });
    return `${reason.charAt(0).toUpperCase()}${reason.slice(1)}: ${names.join(', ')}.`;
  });
}

async function ruleOn(
  db: Db,
  { secondPerson, inSpite: _, poleId: _pole, seenRulingId: _seen, ...added }: Seen & NewRuling & Said,
): Promise<Ruling> {
  const { visit } = await getVisit(db, added.visitId);
  const before = (await listRulings(db, { visitId: added.visitId })).find(({ ruling }) => !ruling.withdrawn);
  const rulingId = await insertRuling(db, added, new Date().toISOString());
  await appendTrail(db, {
    action: 'rule',
    subject: `visit ${added.visitId}, pole ${visit.pole.id}`,
    who: added.analyst,
    before: before && { rulingId: before.ruling.rulingId, decision: before.ruling.decision },
    after: { rulingId, decision: added.decision, assessmentId: added.assessmentId },
    why: added.reason,
  });
  if (secondPerson !== undefined) await sign(db, rulingId, secondPerson);
  return (await getRuling(db, rulingId)).ruling;
}

async function sign(db: Db, rulingId: number, person: string): Promise<void> {
  const { ruling } = await getRuling(db, rulingId);
  refuseWithdrawn(ruling);
  if (ruling.signed) {
    throw new InputError(
      'ruling.signed',
      `Ruling ${rulingId} has a second signature already, by ${ruling.signed.person}.`,
      'One second signature is kept for a ruling; make a ruling of your own to say more.',
    );
  }
  if (isSamePerson(person, ruling.analyst)) {
    throw new InputError(
      'ruling.samePerson',
      `The ruling is by ${ruling.analyst}, who cannot sign it as well; a second signature is somebody else's.`,
      'Have another person sign, or leave the second signature out.',
    );
  }
  await mark(db, rulingId, 'signed', person);
}

async function withdraw(
  db: Db,
  rulingId: number,
  person: string,
  reason: string | undefined,
): Promise<RulingOfVisit> {
  const { ruling } = await getRuling(db, rulingId);
  refuseWithdrawn(ruling);
  if (reason === undefined) refuseWithoutReason(ruling, person);
  await mark(db, rulingId, 'withdrawn', person, reason);
  return getRuling(db, rulingId);
}

async function mark(
  db: Db,
  rulingId: number,
  kind: 'signed' | 'withdrawn',
  person: string,
  why?: string,
): Promise<void> {
  await markRuling(db, rulingId, kind, person, new Date().toISOString());
  await appendTrail(db, {
    action: 'rule',
    subject: `ruling ${rulingId}`,
    who: person,
    after: kind,
    ...(why !== undefined && { why }),
  });
}

/** What two people answer for, or somebody else does, nobody takes back without a word. */
function refuseWithoutReason({ decision, analyst, signed }: Ruling, person: string): void {
  const by = isSamePerson(person, analyst) ? '' : ` by ${analyst}`;
  const beside = signed ? `${by && ','} signed by ${signed.person}` : '';
  if (by + beside === '') return;
  throw new InputError(
    'ruling.reason',
    `The ruling “${decision}”${by}${beside} is taken back only for a reason.`,
    'Say why; it is kept in the trail.',
  );
}

function refuseWithdrawn({ rulingId, withdrawn }: Ruling): void {
  if (!withdrawn) return;
  throw new InputError(
    'ruling.withdrawn',
    `Ruling ${rulingId} was withdrawn by ${withdrawn.person} on ${withdrawn.markedAt.slice(0, 10)}.`,
    'Make a new ruling where one is needed.',
  );
}

function isSamePerson(a: string, b: string): boolean {
  return a.trim().toLocaleLowerCase('en') === b.trim().toLocaleLowerCase('en');
}
