import type { Kysely } from 'kysely';
import { hashSha256 } from '../../hashSha256.ts';
import type { BreakTestMapping, RefusedCell } from '../../strength/index.ts';
import { compressBrotli } from '../compression.ts';
import type { CallRequest, CallResponse } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';
import { type AnswerHere, findHere, nameTables, pairUp, requireAnswer } from './alreadyHere.ts';
import { insertTestChoices } from './breakTestChoices.repository.ts';
import {
  findBreakTestSet,
  hashContents,
  type KeptBreakTest,
  listTestsInUse,
} from './breakTests.repository.ts';

export type NewBreakTestSet = {
  fileName: string;
  csv: Uint8Array;
  mapping: BreakTestMapping;
  tests: readonly KeptBreakTest[];
  refused: readonly RefusedCell[];
  /** What becomes of tests whose specimens are in use already, and who says so. */
  alreadyHere?: CallRequest<'calibration.keepTests'>['alreadyHere'];
};

type KeptSet = Pick<CallResponse<'calibration.keepTests'>, 'setId' | 'isNew' | 'replaced'>;

/**
 * Keeps a table of break tests with its bytes; the same table under the same mapping is found, not kept twice. All of its tests are
 * kept; those that are in use already are set aside, or the earlier ones are, or both count, as a person says.
 * @throws InputError `breakTests.here` where nobody said; StoreError `store.conflict` where others are in use than was said of
 */
export async function keepBreakTestSet(
  db: Kysely<Tables>,
  { fileName, csv, mapping, tests, refused, alreadyHere }: NewBreakTestSet,
): Promise<KeptSet> {
  const csvSha256 = hashSha256(csv);
  const contentsSha256 = hashContents(csvSha256, mapping);
  // before the change begins, since all who write wait for its end
  const compressed = compressBrotli(csv);
  return db.transaction().execute(async (transaction) => {
    const same = await findBreakTestSet(transaction, contentsSha256);
    if (same !== undefined) return { setId: same, isNew: false, replaced: [] };
    const here = findHere(tests, await listTestsInUse(transaction));
    requireAnswer(here, tests.length, alreadyHere);
    const { set_id } = await transaction
      .insertInto('break_test_sets')
      .values({
        file_name: fileName,
        csv_brotli: compressed,
        csv_sha256: csvSha256,
        mapping_json: JSON.stringify(mapping),
        contents_sha256: contentsSha256,
        refused_json: JSON.stringify(refused),
        kept_at: new Date().toISOString(),
      })
      .returning('set_id')
      .executeTakeFirstOrThrow();
    const testIds = new Map<KeptBreakTest, number>();
    for (const test of tests) {
      const { test_id } = await transaction
        .insertInto('break_tests')
        .values({
          set_id,
          line: test.detail.line,
          pole_code: test.row.poleId,
          test_json: JSON.stringify(test),
        })
        .returning('test_id')
        .executeTakeFirstOrThrow();
      testIds.set(test, test_id);
    }
    const pairs = pairUp(here, (test) => testIds.get(test)!);
    if (alreadyHere) {
      const { answer, chosenBy } = alreadyHere;
      await insertTestChoices(
        transaction,
        answer === 'replace' ? pairs.map(({ testId }) => testId) : here.map(({ test }) => testIds.get(test)!),
        answer === 'keep-both' ? 'in use' : 'set aside',
        { chosenBy, reason: tellWhy(answer, fileName, nameTables(here)) },
      );
    }
    await appendTrail(transaction, {
      action: 'import',
      subject: `break tests, ${fileName}`,
      ...(alreadyHere && { who: alreadyHere.chosenBy }),
      after: {
        ...{ setId: set_id, csvSha256, tests: tests.length, refused: refused.length },
        ...(alreadyHere && { alreadyHere: here.length, answer: alreadyHere.answer }),
      },
    });
    return { setId: set_id, isNew: true, replaced: alreadyHere?.answer === 'replace' ? pairs : [] };
  });
}

function tellWhy(answer: AnswerHere['answer'], fileName: string, earlier: string): string {
  if (answer === 'replace') return `replaced by ${fileName}`;
  return answer === 'leave-out' ? `here already, from ${earlier}` : `kept beside those of ${earlier}`;
}
