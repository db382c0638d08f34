import { Button, TextInput } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote } from '../../parts/index.ts';
import { forgetTyped, useTyped } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { FIRST_RANGES, useClassroom } from '../classroomStore.ts';
import type { LessonEntry, LessonId } from '../classroomTypes.ts';

/** Any quiz number tells how many blows of a lesson are asked for. */
const COUNTING_QUIZ = 0;
const FORM = 'quiz';

type QuizStartProps = {
  lessons: readonly LessonEntry[];
  onBegin(lessonId: LessonId, trainee: string, turns: number): void;
};

/** Whose quiz it is, and out of which lesson. */
export function QuizStart({ lessons, onBegin }: QuizStartProps) {
  const { lessonId, beforeZoom, openSection, look } = useClassroom();
  const asked = lessons.filter((lesson) => lesson.asked > 0);
  const [chosen, setChosen] = useState<LessonId | null>(lessonId ?? asked[0]?.lessonId ?? null);
  const [trainee, setTrainee] = useTyped(FORM, 'trainee', '');
  const [failure, setFailure] = useState<Failure | null>(null);
  if (asked.length === 0 || chosen === null) {
    return (
      <div className="quiz-start">
        <p>
          A quiz asks for the blows of a lesson, without their names. There is no lesson to ask about yet.
        </p>
        <Button size="compact-sm" onClick={() => openSection('lessons')}>
          Make a lesson
        </Button>
      </div>
    );
  }

  async function begin(lesson: LessonId): Promise<void> {
    const answer = await callHost('classroom.startQuiz', { lessonId: lesson, quiz: COUNTING_QUIZ });
    if (answer.ok) {
      forgetTyped(FORM);
      look({ ...beforeZoom, ...FIRST_RANGES });
      onBegin(lesson, trainee.trim(), answer.value.turns.length);
    } else setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
  }

  return (
    <form
      className="quiz-start"
      onSubmit={(event) => {
        event.preventDefault();
        void begin(chosen);
      }}
    >
      <p>
        The blows of a lesson, in an order of their own and without names. For each, say what is wrong, or
        that nothing is. At the end you see each blow again with the answer, and your score is kept in this
        workspace.
      </p>
      <label>
        Lesson{' '}
        <select
          value={String(chosen)}
          onChange={(event) => {
            const { value } = event.currentTarget;
            setChosen(value === 'first-blows' ? value : Number(value));
          }}
        >
          {asked.map(({ lessonId: id, title, asked: blows }) => (
            <option key={id} value={id}>
              {title} ({blows} blows)
            </option>
          ))}
        </select>
      </label>
      <TextInput
        size="xs"
        label="Your name"
        description="Your score is kept under it."
        value={trainee}
        onChange={(event) => setTrainee(event.currentTarget.value)}
      />
      <Button type="submit" size="compact-sm" disabled={trainee.trim() === ''}>
        Begin
      </Button>
      {failure && <ErrorNote failure={failure} />}
    </form>
  );
}
