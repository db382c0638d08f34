import { Button, FileButton } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, ScrollRegion, Waiting } from '../../parts/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { useClassroom } from '../classroomStore.ts';
import type { LessonEntry, LessonId } from '../classroomTypes.ts';
import { listFaults } from '../nameFault.ts';
import { LessonActions } from './LessonActions.tsx';
import { LessonDesk } from './LessonDesk.tsx';
import { NEW_LESSON } from './lessonDraft.ts';
import { useDraft } from './useDraft.ts';
import { useProposal } from './useProposal.ts';

/** Lessons of the workspace: made, changed, brought in, handed out. */
export function LessonsSection({ lessons }: { lessons: readonly LessonEntry[] }) {
  const { lessonId, set } = useClassroom();
  const noteStored = useWindow((s) => s.noteStored);
  const draft = useDraft();
  const [told, setTold] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const proposal = useProposal((lesson) => draft.begin({ lessonId: null, lesson }));
  const open = lessonId ?? lessons[0]?.lessonId ?? null;

  async function bringIn(file: File | null): Promise<void> {
    if (!file) return;
    const answer = await callHost('classroom.importLesson', { fileName: file.name, text: await file.text() });
    if (!answer.ok) {
      setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
      return;
    }
    const { title, missing } = answer.value;
    setFailure(null);
    setTold(
      `${title} was brought in.${missing > 0 ? ` The recordings of ${missing} of its blows are not in this workspace.` : ''}`,
    );
    set({ lessonId: answer.value.lessonId });
    noteStored();
  }

  return (
    <div className="lessons">
      <aside className="lesson-source" aria-label="Lessons">
        <ul className="lesson-list">
          {lessons.map((lesson) => (
            <li key={lesson.lessonId}>
              <button
                type="button"
                aria-current={lesson.lessonId === open && !draft.draft ? 'true' : undefined}
                disabled={draft.draft !== null}
                onClick={() => set({ lessonId: lesson.lessonId })}
              >
                <strong>{lesson.title}</strong>
                <span className="quiet">
                  {lesson.blows} blows, {lesson.asked} in the quiz
                </span>
              </button>
            </li>
          ))}
        </ul>
        {lessons.length === 0 && <p className="quiet">There is no lesson in this workspace yet.</p>}
        {draft.draft === null && (
          <div className="lesson-starts">
            <Button size="compact-sm" onClick={proposal.propose} disabled={proposal.progress !== null}>
              Propose a lesson
            </Button>
            <Button
              size="compact-sm"
              variant="default"
              onClick={() => draft.begin({ lessonId: null, lesson: NEW_LESSON })}
            >
              Start an empty one
            </Button>
            <FileButton accept=".json,application/json" onChange={(file) => void bringIn(file)}>
              {(props) => (
                <Button {...props} size="compact-sm" variant="default">
                  Bring in a lesson file
                </Button>
              )}
            </FileButton>
          </div>
        )}
        <p role="status">
          {proposal.progress ? (
            <>
              {proposal.progress.looked} of {proposal.progress.of} visits looked through.{' '}
              <Button size="compact-xs" variant="default" onClick={proposal.stop}>
                Stop
              </Button>
            </>
          ) : (
            told
          )}
        </p>
        {(failure ?? proposal.failure) && <ErrorNote failure={(failure ?? proposal.failure)!} />}
      </aside>
      {draft.draft ? (
        <LessonDesk {...draft} draft={draft.draft} onKept={(kept) => set({ lessonId: kept })} />
      ) : (
        open !== null && <LessonCard lessonId={open} onChange={draft.begin} />
      )}
    </div>
  );
}

/** A lesson as it is kept, to be read. */
function LessonCard(props: { lessonId: LessonId; onChange: ReturnType<typeof useDraft>['begin'] }) {
  const { lessonId, onChange } = props;
  const stored = useWindow((s) => s.stored);
  const { value, failure } = useAnswer('classroom.openLesson', { lessonId }, stored);
  if (failure) return <ErrorNote failure={failure} />;
  if (!value) return <Waiting what="Looking up the blows of the lesson." />;
  const { lesson, blows } = value;
  const isOwn = lessonId !== 'first-blows';
  return (
    <ScrollRegion className="lesson-card" label={`Lesson: ${lesson.title}`}>
      <h2>{lesson.title}</h2>
      {lesson.maker !== '' && <p className="quiet">Made by: {lesson.maker}</p>}
      <LessonActions lessonId={lessonId} />
      <p className="lesson-notes">{lesson.notes}</p>
      <Button
        size="compact-sm"
        onClick={() =>
          onChange(
            isOwn
              ? { lessonId, lesson }
              : { lessonId: null, lesson: { ...lesson, title: `${lesson.title}, my copy`, maker: '' } },
          )
        }
      >
        {isOwn ? 'Change it' : 'Make a copy to change'}
      </Button>
      <ol className="lesson-contents">
        {lesson.blows.map((entry, i) => {
          const { blow, missing } = blows[i]!;
          return (
            <li key={`${entry.recordingSha256} ${entry.startS}`}>
              <strong>{entry.title || 'A blow'}</strong>{' '}
              <span className="quiet">
                {entry.poleId}, {entry.recordingFile} at {entry.startS.toFixed(1)} s
                {entry.use === 'show' && ', in the lesson only'}
                {entry.use === 'ask' && ', in the quiz only'}
              </span>
              <br />
              {blow ? `Checks: ${listFaults(blow.faults)}.` : missing}
              {entry.statedFaults && ` Stated: ${listFaults(entry.statedFaults)}.`}
              {entry.note !== '' && <p>{entry.note}</p>}
            </li>
          );
        })}
      </ol>
    </ScrollRegion>
  );
}
