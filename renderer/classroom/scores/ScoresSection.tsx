import { Button } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, ScrollRegion, saveFile, Waiting } from '../../parts/index.ts';
import { useAnswer } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { formatMoment } from '../../words/index.ts';
import { useClassroom } from '../classroomStore.ts';
import type { Score, Tally } from '../classroomTypes.ts';
import { TallyTable } from '../quiz/TallyTable.tsx';

/** Scores by trainee, as kept in this workspace. */
export function ScoresSection() {
  const [changes, setChanges] = useState(0);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [asking, setAsking] = useState<string | null>(null);
  const openSection = useClassroom((s) => s.openSection);
  const answer = useAnswer('classroom.listScores', {}, changes);
  if (answer.failure) return <ErrorNote failure={answer.failure} />;
  if (!answer.value) return <Waiting what="Reading the scores." />;
  const byTrainee = Map.groupBy(answer.value.scores, ({ trainee }) => trainee);
  if (byTrainee.size === 0) {
    return (
      <div className="quiz-start">
        <p>Nobody has taken a quiz in this workspace yet.</p>
        <Button size="compact-sm" onClick={() => openSection('quiz')}>
          To the quiz
        </Button>
      </div>
    );
  }

  async function save(): Promise<void> {
    const file = await callHost('classroom.exportScores', {});
    if (file.ok) saveFile(file.value.fileName, file.value.text, 'text/csv');
    else setFailure({ code: file.code, message: file.message, hint: file.hint });
  }
  async function drop(trainee: string): Promise<void> {
    const dropped = await callHost('classroom.dropScores', { trainee });
    setAsking(null);
    if (dropped.ok) setChanges((count) => count + 1);
    else setFailure({ code: dropped.code, message: dropped.message, hint: dropped.hint });
  }

  return (
    <ScrollRegion className="scores" label="Scores">
      <div className="lesson-actions">
        <Button size="compact-sm" variant="default" onClick={() => void save()}>
          Save as table (CSV)
        </Button>
        <span className="quiet">Kept in this workspace only.</span>
      </div>
      {failure && <ErrorNote failure={failure} />}
      {[...byTrainee].map(([trainee, scores]) => (
        <section key={trainee} className="trainee">
          <h2>{trainee}</h2>
          {asking === trainee ? (
            <p role="alert">
              Drop all scores of {trainee} for good?{' '}
              <Button size="compact-xs" variant="default" onClick={() => void drop(trainee)}>
                Drop
              </Button>{' '}
              <Button size="compact-xs" variant="default" onClick={() => setAsking(null)}>
                Keep them
              </Button>
            </p>
          ) : (
            <Button
              size="compact-xs"
              variant="default"
              aria-label={`Drop these scores of ${trainee}`}
              onClick={() => setAsking(trainee)}
            >
              Drop these scores
            </Button>
          )}
          {scores.map((score) => (
            <ScoreEntry key={score.scoreId} score={score} />
          ))}
        </section>
      ))}
    </ScrollRegion>
  );
}

function ScoreEntry({ score }: { score: Score }) {
  const { grading, gradedAt, lessonTitle } = score;
  return (
    <details>
      <summary>
        {formatMoment(gradedAt)}: {lessonTitle}, {grading.blows.length} blows;{' '}
        {describeTallies('checks', grading.againstChecks)}
        {grading.againstStated && `; ${describeTallies('stated truth', grading.againstStated)}`}
      </summary>
      <div className="tallies">
        <TallyTable caption="Against the checks of the program" tallies={grading.againstChecks} />
        {grading.againstStated && (
          <TallyTable caption="Against what the maker of the lesson states" tallies={grading.againstStated} />
        )}
      </div>
    </details>
  );
}

function describeTallies(against: string, tallies: readonly Tally[]): string {
  const sum = (count: (tally: Tally) => number) => tallies.reduce((total, tally) => total + count(tally), 0);
  const hits = sum((tally) => tally.hits);
  const there = hits + sum((tally) => tally.misses);
  return `against ${against} ${hits} of ${there} found, ${sum((tally) => tally.falseAlarms)} false alarms`;
}
