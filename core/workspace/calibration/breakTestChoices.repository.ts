import type { Kysely } from 'kysely';
import { InputError } from '../../errors.ts';
import type { CallRequest, CallResponse } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { tellConflict } from '../tellConflict.ts';
import { appendTrail } from '../trail/index.ts';
import { findHere, pairUp, requireAnswer } from './alreadyHere.ts';
import { listBreakTests, type TestChoice } from './breakTests.repository.ts';

type Db = Kysely<Tables>;
type Standing = Tables['break_test_choices']['standing'];

/** Says of tests that they are in use, or set aside: in no fit. To be told in the trail by the caller. */
export async function insertTestChoices(
  db: Db,
  testIds: readonly number[],
  standing: Standing,
  { chosenBy, reason }: Pick<TestChoice, 'chosenBy' | 'reason'>,
): Promise<void> {
  const now = new Date().toISOString();
  for (const test_id of testIds) {
    await db
      .insertInto('break_test_choices')
      .values({ test_id, standing, chosen_at: now, chosen_by: chosenBy, reason })
      .execute();
  }
}

/**
 * Sets the tests of a table aside, or takes those that are up again. Nothing is deleted.
 * @throws InputError `breakTests.unknown`; `breakTests.standing` where no test would stand otherwise; `breakTests.here` where tests would count
 * twice and nobody said so; StoreError `store.conflict`
 */
export async function chooseTestSet(
  db: Db,
  choice: CallRequest<'calibration.chooseTests'>,
): Promise<CallResponse<'calibration.chooseTests'>> {
  const { setId, standing, chosenBy, reason = '', alreadyHere, seenChoice } = choice;
  return db.transaction().execute(async (transaction) => {
    const all = await listBreakTests(transaction);
    const fileName = all.find((test) => test.setId === setId)?.fileName;
    if (fileName === undefined) {
      throw new InputError(
        'breakTests.unknown',
        `There is no table of break tests ${setId} in this workspace.`,
        'List the tables for those that are there.',
      );
    }
    const seen = `the tests of ${fileName} as listed`;
    if (seenChoice !== undefined) await refuseOvertakenTests(transaction, seenChoice, { setId, seen });
    const inUse = all.filter(({ setAside }) => setAside === null);
    const others = all.filter(
      (test) => test.setId === setId && (test.setAside === null) !== (standing === 'in use'),
    );
    const here = standing === 'in use' ? findHere(others, inUse) : [];
    requireAnswer(here, others.length, alreadyHere);
    const left = new Set(alreadyHere?.answer === 'leave-out' ? here.map(({ test }) => test) : []);
    const chosen = others.filter((test) => !left.has(test)).map(({ testId }) => testId);
    if (chosen.length === 0) {
      throw new InputError(
        'breakTests.standing',
        `No test of ${fileName} would be ${standing} that is not so already.`,
        'List the tables for how their tests stand.',
      );
    }
    const replaced = alreadyHere?.answer === 'replace' ? pairUp(here, ({ testId }) => testId) : [];
    await insertTestChoices(
      transaction,
      replaced.map(({ testId }) => testId),
      'set aside',
      { chosenBy, reason: `replaced by ${fileName}` },
    );
    await insertTestChoices(transaction, chosen, standing, { chosenBy, reason });
    await appendTrail(transaction, {
      action: 'set',
      subject: `break tests, ${fileName}`,
      who: chosenBy,
      after: {
        ...{ setId, standing, tests: chosen.length },
        ...(alreadyHere && { alreadyHere: here.length, answer: alreadyHere.answer }),
      },
      why: reason,
    });
    return { tests: chosen.length, replaced };
  });
}

/** Grows with every choice of tests: two equal figures, and nothing was chosen in between. */
export async function readLastTestChoice(db: Db): Promise<number> {
  const row = await db
    .selectFrom('break_test_choices')
    .select((eb) => eb.fn.max('choice_id').as('last'))
    .executeTakeFirst();
  return row?.last ?? 0;
}

/**
 * @param looked.setId - the table that matters; absent: all
 * @param looked.seen - what was looked at, in words
 * @throws StoreError `store.conflict` where tests were set aside or taken up since
 */
export async function refuseOvertakenTests(
  db: Db,
  seenChoice: number,
  { setId, seen }: { setId?: number; seen: string },
): Promise<void> {
  const since = await db
    .selectFrom('break_test_choices as choice')
    .innerJoin('break_tests as test', 'test.test_id', 'choice.test_id')
    .innerJoin('break_test_sets as kept', 'kept.set_id', 'test.set_id')
    .select(['kept.set_id', 'kept.file_name', 'choice.standing', 'choice.chosen_by', 'choice.chosen_at'])
    .where('choice.choice_id', '>', seenChoice)
    .orderBy('choice.choice_id', 'desc')
    .execute();
  const newest = since.find(({ set_id }) => setId === undefined || set_id === setId);
  if (!newest) return;
  throw tellConflict('Which break tests are in use', seen, {
    words: `tests of ${newest.file_name} ${newest.standing}`,
    by: newest.chosen_by,
    at: newest.chosen_at,
  });
}
