import type { OpenedLesson } from '../classroomTypes.ts';
import { listFaults } from '../nameFault.ts';
import { SideButtons } from './SideButtons.tsx';

/** How the blows listed here and those kept back add up to the lesson's, as its list counts them. */
function sayKeptBack(shown: number, all: number): string {
  const keptBack = all - shown;
  return `${shown} of the lesson's ${all} blows are listed; ${keptBack} ${keptBack === 1 ? 'is' : 'are'} asked in the quiz alone, and not shown before it.`;
}

/** The blows that a lesson shows, in its order. */
export function LessonBlows({ opened }: { opened: OpenedLesson }) {
  const { lesson, blows } = opened;
  const shown = lesson.blows.flatMap((entry, i) => (entry.use === 'ask' ? [] : [{ entry, ...blows[i]! }]));
  return (
    <>
      {lesson.notes !== '' && <p className="lesson-notes">{lesson.notes}</p>}
      {shown.length < lesson.blows.length && (
        <p className="quiet">{sayKeptBack(shown.length, lesson.blows.length)}</p>
      )}
      <ul className="blow-list" aria-label="Blows of the lesson">
        {shown.map(({ entry, blow, missing }, i) => {
          const name = entry.title || `${entry.poleId} at ${entry.startS.toFixed(1)} s`;
          return (
            <li key={`${entry.recordingSha256} ${entry.startS}`}>
              <span className="blow-title">
                {i + 1}. {name}
              </span>
              {blow ? (
                <>
                  <span className="quiet">
                    {entry.poleId}, {blow.exciter}: {listFaults(blow.faults)}
                  </span>
                  <span className="blow-actions">
                    <SideButtons blow={blow} name={name} />
                  </span>
                </>
              ) : (
                <span className="quiet">{missing}</span>
              )}
            </li>
          );
        })}
      </ul>
    </>
  );
}
