import { Button } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, saveFile } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import type { CallAnswer, Failure } from '../../types.ts';
import { useClassroom } from '../classroomStore.ts';
import type { LessonId } from '../classroomTypes.ts';

type FileAnswer = CallAnswer<'classroom.printHandout'>;

/** What can be done with a lesson as it is kept. */
export function LessonActions({ lessonId }: { lessonId: LessonId }) {
  const { openSection, takeFrom, set } = useClassroom();
  const noteStored = useWindow((s) => s.noteStored);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [asking, setAsking] = useState(false);

  async function save(asked: Promise<FileAnswer>, type: string): Promise<void> {
    const answer = await asked;
    setFailure(answer.ok ? null : { code: answer.code, message: answer.message, hint: answer.hint });
    if (answer.ok) saveFile(answer.value.fileName, answer.value.text, type);
  }
  const print = (form: 'explained' | 'questions') =>
    void save(callHost('classroom.printHandout', { lessonId, form }), 'text/html');

  async function drop(): Promise<void> {
    if (lessonId === 'first-blows') return;
    const answer = await callHost('classroom.dropLesson', { lessonId });
    setAsking(false);
    if (!answer.ok) {
      setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
      return;
    }
    set({ lessonId: null });
    if (useClassroom.getState().source === lessonId) takeFrom('workspace');
    noteStored();
  }

  return (
    <>
      <div className="lesson-actions">
        <Button
          size="compact-sm"
          variant="default"
          onClick={() => {
            takeFrom(lessonId);
            openSection('look');
          }}
        >
          Look at it
        </Button>
        <Button size="compact-sm" variant="default" onClick={() => openSection('quiz')}>
          Its quiz
        </Button>
        <Button size="compact-sm" variant="default" onClick={() => print('explained')}>
          Handout to print
        </Button>
        <Button size="compact-sm" variant="default" onClick={() => print('questions')}>
          Questions to print
        </Button>
        <Button
          size="compact-sm"
          variant="default"
          onClick={() => void save(callHost('classroom.exportLesson', { lessonId }), 'application/json')}
        >
          Save as file
        </Button>
        {lessonId !== 'first-blows' && !asking && (
          <Button size="compact-sm" variant="default" onClick={() => setAsking(true)}>
            Drop it
          </Button>
        )}
        {asking && (
          <span role="alert">
            Drop this lesson for good? Scores are kept.{' '}
            <Button size="compact-sm" variant="default" onClick={() => void drop()}>
              Drop
            </Button>{' '}
            <Button size="compact-sm" variant="default" onClick={() => setAsking(false)}>
              Keep it
            </Button>
          </span>
        )}
      </div>
      {failure && <ErrorNote failure={failure} />}
    </>
  );
}
