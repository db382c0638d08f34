import { appraiseRelation } from '../judging/appraiseRelation.ts';
import { type CalibrationDocument, weaknessesOf } from './calibrationDocument.ts';
import type { FittedRelation } from './fitRelation.ts';
import { NOT_JUDGED, tellArms, type Weakness } from './weakness.ts';

/** The sentence on arms as this program writes it: the count in it is the publisher's, and in nothing else of a document. */
const COUNT_OF_ARMS = /^Of (\d{1,6}) of the \d+ tests nobody noted/;

/**
 * What speaks against a calibration that came in a file: what its tests show by this program's own judgement, in its own words, and whatever
 * else the file says of itself. None is lost, and no sentence of the file is repeated: every result would print it.
 * @param fit - of the tests in the document
 */
export function judgeAnew(document: CalibrationDocument, fit: FittedRelation): Weakness[] {
  const found = appraiseRelation(fit, null).weaknesses;
  const known = new Set(found.map(({ id }) => id));
  const more = new Map(
    weaknessesOf(document).flatMap((told) =>
      known.has(told.id) ? [] : [[told.id, tellOfFile(told, fit.tests.length)] as const],
    ),
  );
  return [...found, ...more.values()];
}

/** What only the publisher can know, or what another program found. */
function tellOfFile({ id, text }: Weakness, tests: number): Weakness {
  if (id === 'not-judged') return NOT_JUDGED;
  if (id === 'arms-not-shortened') {
    const count = Number(COUNT_OF_ARMS.exec(text)?.[1]);
    return tellArms(count >= 1 && count <= tests ? count : null, tests);
  }
  return {
    id,
    text: `The program that published the calibration found a weakness that this one does not find: ${id.replaceAll('-', ' ')}.`,
  };
}
