import { fitRelation, learningCurve, publishCalibration, weaknessesOf } from '../../../strength/index.ts';
import { getDocument, insertCalibration, nextNumber } from '../../calibration/calibrations.repository.ts';
import { fitTests } from '../../calibration/fitTests.ts';
import { gatherTests } from '../../calibration/gatherTests.ts';
import { judgeCandidates } from '../../calibration/judgeCandidates.ts';
import { requireReason } from '../../calibration/requireReason.ts';
import { tellFitted, tellHandbook, tellKept } from '../../calibration/tellAppraisal.ts';
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
    'calibration.appraise': async (request) => {
      if ('calibrationId' in request) {
        const { calibrationId } = request;
        return calibrationId === null
          ? tellHandbook()
          : tellKept((await getDocument(db, calibrationId)).document);
      }
      const { fit, armsNotShortened } = fitTests(await takeTests(request.leftOut), request.candidate.spec);
      return tellFitted(fit, armsNotShortened);
    },
    'calibration.publish': async ({ candidate, leftOut, name, author, note, despite, seen }) => {
      requireWritable(store);
      const { fit, armsNotShortened } = fitTests(await takeTests(leftOut), candidate.spec);
      const number = await nextNumber(db, name);
      const document = publishCalibration(
        fit,
        { name, number, author, note, publishedAt: new Date().toISOString() },
        armsNotShortened,
      );
      const label = `${name}@${number}`;
      requireReason(label, weaknessesOf(document), despite, 'why it is published all the same');
      const { calibrationId } = await insertCalibration(db, document, 'published', { seen, despite });
      return { calibrationId, label };
    },
  };
}
