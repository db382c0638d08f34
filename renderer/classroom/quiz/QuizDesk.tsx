import { Button } from '@mantine/core';
import { useMemo, useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, Waiting } from '../../parts/index.ts';
import { loudestOf } from '../../plots/index.ts';
import { type Range, useAnswer } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { useClassroom } from '../classroomStore.ts';
import type { FaultId, GradedQuiz, Of, Quiz } from '../classroomTypes.ts';
import { nameAxes } from '../look/nameAxes.ts';
import { PictureChoice } from '../look/PictureChoice.tsx';
import { BlowPictures } from '../pictures/BlowPictures.tsx';
import { highestOf } from '../pictures/drawSpectrum.ts';
import { greatestOf } from '../pictures/drawWaveform.ts';
import { usePictures } from '../pictures/usePictures.ts';
import { PlayButton } from '../sound/PlayButton.tsx';
import { AnswerSheet } from './AnswerSheet.tsx';
import type { Sitting } from './useQuiz.ts';

/** Shown before the blow. */
const LEAD_S = 0.5;

type QuizDeskProps = {
  sitting: Sitting;
  onAnswer(faults: readonly FaultId[] | null): void;
  onTurn(turn: number): void;
  onGiveUp(): void;
  onGraded(graded: GradedQuiz): void;
};

/** A quiz under way: one blow at a time, its pictures, and the boxes to tick. */
export function QuizDesk({ sitting, onAnswer, onTurn, onGiveUp, onGraded }: QuizDeskProps) {
  const { lessonId, quiz, trainee, answers } = sitting;
  const [failure, setFailure] = useState<Failure | null>(null);
  const started = useAnswer('classroom.startQuiz', { lessonId, quiz });
  const open = answers.filter((answer) => answer === null).length;
  const answered = answers.length - open;
  const [asking, setAsking] = useState(false);
  const turn = Math.min(sitting.turn, answers.length - 1);

  async function grade(): Promise<void> {
    const answer = await callHost('classroom.gradeQuiz', {
      lessonId,
      quiz,
      trainee,
      answers: answers.map((faults) => [...(faults ?? [])]),
    });
    if (answer.ok) onGraded(answer.value);
    else setFailure({ code: answer.code, message: answer.message, hint: answer.hint });
  }

  if (started.failure) {
    return (
      <div className="quiz-start">
        <ErrorNote failure={started.failure} />
        <Button size="compact-sm" variant="default" onClick={onGiveUp}>
          Leave this quiz
        </Button>
      </div>
    );
  }
  if (!started.value) return <Waiting what="Looking up the blows of the quiz." />;
  return (
    <div className="quiz-desk">
      <TurnPictures lessonId={lessonId} quiz={quiz} turn={turn} turns={started.value.turns} />
      <aside className="quiz-answers" aria-label="Your answer">
        <p>
          <strong>
            Blow {turn + 1} of {answers.length}
          </strong>
          , by {started.value.turns[turn]?.exciter ?? 'unknown'}. {trainee}, {started.value.title}.
        </p>
        <AnswerSheet key={turn} answer={answers[turn] ?? null} onAnswer={onAnswer} />
        <div className="lesson-actions">
          <Button size="compact-sm" variant="default" disabled={turn === 0} onClick={() => onTurn(turn - 1)}>
            Back
          </Button>
          <Button
            size="compact-sm"
            variant="default"
            disabled={turn === answers.length - 1}
            onClick={() => onTurn(turn + 1)}
          >
            Next blow
          </Button>
          <Button size="compact-sm" disabled={open > 0} onClick={() => void grade()}>
            Grade
          </Button>
          {asking ? (
            <span role="alert">
              Give up {answered === 1 ? 'the one answer' : `the ${answered} answers`} given so far?{' '}
              <Button size="compact-sm" variant="default" onClick={onGiveUp}>
                Give them up
              </Button>{' '}
              <Button size="compact-sm" variant="default" onClick={() => setAsking(false)}>
                Keep on
              </Button>
            </span>
          ) : (
            <Button
              size="compact-sm"
              variant="default"
              onClick={() => (answered > 0 ? setAsking(true) : onGiveUp())}
            >
              Give up
            </Button>
          )}
        </div>
        <p className="quiet" role="status">
          {open > 0 ? `${open} of ${answers.length} not answered yet.` : 'All answered.'}
        </p>
        <p className="quiet">
          “Side by side” and “Lessons” tell what is wrong with a blow: they are closed until the quiz is
          graded or given up.
        </p>
        {failure && <ErrorNote failure={failure} />}
      </aside>
    </div>
  );
}

function TurnPictures({ turns, ...of }: Extract<Of, { quiz: number }> & { turns: Quiz['turns'] }) {
  const { view, look } = useClassroom();
  const pictures = usePictures(of, view);
  const { durationS = 1, azimuthsDeg = [] } = turns[of.turn] ?? {};
  const whole: Range = useMemo(() => [-LEAD_S, durationS], [durationS]);
  const { waveform, spectrum, spectrogram } = pictures;
  const name = `blow ${of.turn + 1}`;
  return (
    <div className="look-main">
      <PictureChoice whole={whole} axes={nameAxes([azimuthsDeg])} compares={false} />
      <section className="blow-column" aria-label={name}>
        <header className="blow-head">
          <h2>Blow {of.turn + 1}</h2>
          <span className="spring" />
          <PlayButton of={of} name={name} />
        </header>
        <div className="blow-pictures">
          <BlowPictures
            name={name}
            side=""
            pictures={pictures}
            view={view}
            timeRangeS={view.timeRangeS ?? whole}
            heights={{
              greatest: waveform ? greatestOf(waveform) : 1,
              highest: spectrum ? highestOf(spectrum) : 1,
              loudest: spectrogram ? loudestOf(spectrogram) : 0,
            }}
            marks={[]}
            onLook={look}
          />
        </div>
      </section>
    </div>
  );
}
