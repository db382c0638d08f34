import type { OpenedLesson } from '../classroomTypes.ts';
import { listFaults } from '../nameFault.ts';
import { SideButtons } from './SideButtons.tsx';

/** Where the other blows of a lesson are. */
function sayKeptBack(count: number): string {
  const blows = count === 1 ? 'One more blow is' : `${count} more blows are`;
  return `${blows} asked in the quiz alone, and not shown before it.`;
}

/** The blows that a lesson shows, in its order. */
export function LessonBlows({ opened }: { opened: OpenedLesson }) {
  const { lesson, blows } = opened;
  const shown = lesson.blows.flatMap((entry, i) => (entry.use === 'ask' ? [] : [{ entry, ...blows[i]! }]));
  return (
    <>
      {lesson.notes !== '' && <p className="lesson-notes">{lesson.notes}</p>}
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
      {shown.length < lesson.blows.length && (
        <p className="quiet">{sayKeptBack(lesson.blows.length - shown.length)}</p>
      )}
    </>
  );
}
