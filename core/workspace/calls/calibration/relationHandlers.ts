import { fitRelation, learningCurve, publishCalibration } from '../../../strength/index.ts';
import { insertCalibration, nextNumber } from '../../calibration/calibrations.repository.ts';
import { gatherTests } from '../../calibration/gatherTests.ts';
import { judgeCandidates } from '../../calibration/judgeCandidates.ts';
import type { relationCalls } from '../../contract/calibration/relationCalls.ts';
import type { HandlersOf } from '../../handlers.ts';
import { requireWritable } from '../../requireWritable.ts';
import type { Store } from '../../store.ts';

export function createRelationHandlers(store: Store): HandlersOf<typeof relationCalls> {
  const { db } = store;
  const takeTests = async (leftOut: readonly number[]) =>
    (await gatherTests(db)).filter(({ testId }) => !leftOut.includes(testId));
  return {
    'calibration.tryRelations': async ({ candidates, leftOut }) =>
      judgeCandidates(candidates, await takeTests(leftOut)),
    'calibration.learning': async ({ candidate, leftOut, more }) => {
      const rows = (await takeTests(leftOut)).map(({ row }) => row);
      const { points, now, then } = learningCurve(fitRelation(rows, candidate.spec), { more });
      return { points: [...points], now, withMore: then };
    },
    'calibration.publish': async ({ candidate, leftOut, name, author, note, seen }) => {
      requireWritable(store);
      const rows = (await takeTests(leftOut)).map(({ row }) => row);
      const document = publishCalibration(fitRelation(rows, candidate.spec), {
        name,
        number: await nextNumber(db, name),
        author,
        note,
        publishedAt: new Date().toISOString(),
      });
      const { calibrationId } = await insertCalibration(db, document, 'published', seen);
      return { calibrationId, label: `${document.name}@${document.number}` };
    },
  };
}
