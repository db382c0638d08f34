import { Button } from '@mantine/core';
import { FAULTS } from '../../../core/workspace/contract.ts';
import { ScrollRegion } from '../../parts/index.ts';
import { useClassroom } from '../classroomStore.ts';
import type { FaultId, GradedQuiz } from '../classroomTypes.ts';
import { placeOf } from '../look/SideButtons.tsx';
import { listFaults } from '../nameFault.ts';
import { compareAnswer } from './compareAnswer.ts';
import { TallyTable } from './TallyTable.tsx';

/** A graded quiz: counts of each fault against both keys, and every blow with answer and keys. */
export function GradedQuizCard({ graded, onLeave }: { graded: GradedQuiz; onLeave(): void }) {
  const { grading, blows } = graded;
  const { lay, openSection } = useClassroom();
  return (
    <ScrollRegion className="graded-quiz" label="The graded quiz">
      <div className="lesson-actions">
        <h2>Graded</h2>
        <Button size="compact-sm" variant="default" onClick={onLeave}>
          Another quiz
        </Button>
        <Button size="compact-sm" variant="default" onClick={() => openSection('scores')}>
          All scores
        </Button>
      </div>
      <div className="tallies">
        <TallyTable caption="Against the checks of the program" tallies={grading.againstChecks} />
        {grading.againstStated && (
          <TallyTable caption="Against what the maker of the lesson states" tallies={grading.againstStated} />
        )}
      </div>
      <p className="quiet">
        A hit is a fault named that is there; a miss, one that was overlooked; a false alarm, one named that
        is not there. Where checks and stated truth differ, the checks may be wrong.
      </p>
      <table className="tally-table graded-blows">
        <caption>Blow by blow</caption>
        <thead>
          <tr>
            <th scope="col">Blow</th>
            <th scope="col">Your answer</th>
            <th scope="col">Checks</th>
            <th scope="col">Stated</th>
            <th scope="col">
              <span className="visually-hidden">See it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {grading.blows.map(({ answer, byChecks, notJudged, stated }, i) => {
            const blow = blows[i]!;
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: a turn has no other name than its place.
              <tr key={i}>
                <th scope="row">
                  {i + 1}. {blow.poleId}, {blow.exciter} at {blow.startS.toFixed(1)} s
                </th>
                <td>{listFaults(answer)}</td>
                <td>
                  {compareAnswer(answer, byChecks, notJudged)}
                  {notJudged.length > 0 && ` Not judged: ${listFaults(notJudged)}.`}
                  {tellTales(answer, byChecks, notJudged).map((look) => (
                    <span key={look} className="quiet tell-tale">
                      {look}
                    </span>
                  ))}
                </td>
                <td>{stated ? compareAnswer(answer, stated, []) : 'Not stated.'}</td>
                <td>
                  <Button
                    size="compact-xs"
                    variant="default"
                    aria-label={`See it: blow ${i + 1} with its marks`}
                    onClick={() => {
                      lay('right', placeOf(blow));
                      openSection('look');
                    }}
                  >
                    See it
                  </Button>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** Where to look for what was missed or wrongly named. */
function tellTales(
  answer: readonly FaultId[],
  key: readonly FaultId[],
  left: readonly FaultId[],
): readonly string[] {
  return FAULTS.filter(({ id }) => answer.includes(id) !== key.includes(id) && !left.includes(id)).map(
    ({ name, look }) => `${name}. ${look}`,
  );
}
