import type { LessonEntry } from '../classroomTypes.ts';
import { GradedQuizCard } from './GradedQuizCard.tsx';
import { QuizDesk } from './QuizDesk.tsx';
import { QuizStart } from './QuizStart.tsx';
import type { useQuiz } from './useQuiz.ts';

/** Unlabelled blows to be judged by eye and ear, then graded. */
export function QuizSection(props: { lessons: readonly LessonEntry[]; quiz: ReturnType<typeof useQuiz> }) {
  const { lessons, quiz } = props;
  const { sitting, graded, begin, answer, turnTo, giveUp, show, leave } = quiz;
  if (graded) return <GradedQuizCard graded={graded} onLeave={leave} />;
  if (!sitting) return <QuizStart lessons={lessons} onBegin={begin} />;
  return <QuizDesk sitting={sitting} onAnswer={answer} onTurn={turnTo} onGiveUp={giveUp} onGraded={show} />;
}
