import { Button } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, ScrollRegion } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { useClassroom } from '../classroomStore.ts';
import type { Lesson } from '../classroomTypes.ts';
import { BlowSearch } from '../look/BlowSearch.tsx';
import { placeOf } from '../look/SideButtons.tsx';
import { LessonEditor } from './LessonEditor.tsx';
import { addBlow, hasBlow, type LessonDraft } from './lessonDraft.ts';

type LessonDeskProps = {
  draft: LessonDraft;
  change(lesson: Lesson): void;
  end(): void;
  onKept(lessonId: number): void;
};

/** A lesson that is being changed, with the blows of the workspace beside it. */
export function LessonDesk({ draft, change, end, onKept }: LessonDeskProps) {
  const { lesson, lessonId } = draft;
  const { lay, openSection } = useClassroom();
  const noteStored = useWindow((s) => s.noteStored);
  const [failure, setFailure] = useState<Failure | null>(null);
  const wanting = lesson.title.trim() === '' ? 'a title' : lesson.blows.length === 0 ? 'a blow' : null;

  async function keep(): Promise<void> {
    const answer = await callHost('classroom.keepLesson', { lessonId, lesson });
    if (!answer.ok) {
      setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
      return;
    }
    end();
    onKept(answer.value.lessonId);
    noteStored();
  }

  return (
    <>
      <ScrollRegion className="lesson-card" label="The lesson">
        <div className="lesson-actions">
          <Button size="compact-sm" disabled={wanting !== null} onClick={() => void keep()}>
            Keep the lesson
          </Button>
          <Button size="compact-sm" variant="default" onClick={end}>
            Give up the changes
          </Button>
          {wanting && <span className="quiet">It still needs {wanting}.</span>}
        </div>
        {failure && <ErrorNote failure={failure} />}
        <LessonEditor lesson={lesson} onChange={change} />
      </ScrollRegion>
      <ScrollRegion className="lesson-additions" label="Blows to add">
        <h2>Blows to add</h2>
        <BlowSearch
          actions={(blow) => (
            <>
              <button
                type="button"
                className="side-button"
                disabled={hasBlow(lesson, blow)}
                aria-label={`Add ${blow.poleId}, ${blow.exciter} at ${blow.startS.toFixed(1)} s`}
                onClick={() => change(addBlow(lesson, blow))}
              >
                {hasBlow(lesson, blow) ? 'In it' : 'Add'}
              </button>
              <button
                type="button"
                className="side-button"
                aria-label={`Look at ${blow.poleId}, ${blow.exciter} at ${blow.startS.toFixed(1)} s`}
                onClick={() => {
                  lay('right', placeOf(blow));
                  openSection('look');
                }}
              >
                Look
              </button>
            </>
          )}
        />
      </ScrollRegion>
    </>
  );
}
