import './classroom.css';
import { Button, Tabs } from '@mantine/core';
import { ErrorNote, Waiting } from '../parts/index.ts';
import { useAnswer, useWindow } from '../state/index.ts';
import { SECTIONS, type Section, useClassroom } from './classroomStore.ts';
import { LessonsSection } from './lessons/LessonsSection.tsx';
import { LookSection } from './look/LookSection.tsx';
import { QuizSection } from './quiz/QuizSection.tsx';
import { useQuiz } from './quiz/useQuiz.ts';
import { ScoresSection } from './scores/ScoresSection.tsx';

const NAMES: Readonly<Record<Section, string>> = {
  look: 'Side by side',
  lessons: 'Lessons',
  quiz: 'Quiz',
  scores: 'Scores',
};

/** They tell what is wrong with each blow, and so are closed while a quiz asks for it. */
const TELLING: readonly Section[] = ['look', 'lessons'];

/** The place of the trainer: blows to look at, lessons, quizzes and scores. */
export function ClassroomPlace() {
  const { section, openSection } = useClassroom();
  const stored = useWindow((s) => s.stored);
  const quiz = useQuiz();
  const isClosed = (name: Section) => quiz.sitting !== null && TELLING.includes(name);
  const workspace = useAnswer('workspace.describe', {}, stored);
  const { value, failure } = useAnswer('classroom.listLessons', {}, stored);
  if (failure) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Classroom</h1>
        <ErrorNote failure={failure} />
      </main>
    );
  }
  if (!value || !workspace.value) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Classroom</h1>
        <Waiting what="Reading the lessons." />
      </main>
    );
  }
  if (workspace.value.visits === 0) return <EmptyClassroom />;
  const { lessons } = value;
  return (
    <main className="place classroom">
      <h1 className="visually-hidden">Classroom</h1>
      <Tabs
        className="classroom-tabs"
        value={isClosed(section) ? 'quiz' : section}
        onChange={(next) => openSection(next as Section)}
        keepMounted={false}
      >
        <Tabs.List>
          {SECTIONS.map((name) => (
            <Tabs.Tab key={name} value={name} disabled={isClosed(name)}>
              {NAMES[name]}
            </Tabs.Tab>
          ))}
        </Tabs.List>
        <Tabs.Panel value="look">
          <LookSection lessons={lessons} />
        </Tabs.Panel>
        <Tabs.Panel value="lessons">
          <LessonsSection lessons={lessons} />
        </Tabs.Panel>
        <Tabs.Panel value="quiz">
          <QuizSection lessons={lessons} quiz={quiz} />
        </Tabs.Panel>
        <Tabs.Panel value="scores">
          <ScoresSection />
        </Tabs.Panel>
      </Tabs>
    </main>
  );
}

function EmptyClassroom() {
  const { setImporting } = useWindow();
  return (
    <main className="place empty">
      <h1>Nothing to teach with yet</h1>
      <p>
        The classroom takes its blows from the recordings of this workspace. Bring in visits with their
        recordings first; good ones and faulty ones both teach.
      </p>
      <Button size="sm" onClick={() => setImporting(true)}>
        Bring in visits
      </Button>
    </main>
  );
}
