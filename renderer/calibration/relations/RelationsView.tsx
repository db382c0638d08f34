import './relations.css';
import { useMemo } from 'react';
import { ErrorNote, Waiting } from '../../parts/index.ts';
import { useAnswer, useWindow } from '../../state/index.ts';
import { describeSpecies } from '../../words/index.ts';
import type { Overview, Tests } from '../calibrationTypes.ts';
import { SeriesNotes } from '../tests/SeriesNotes.tsx';
import { useCalibration } from '../useCalibration.ts';
import { ChosenTests } from './ChosenTests.tsx';
import { ComparisonTable } from './ComparisonTable.tsx';
import { LearningPanel } from './LearningPanel.tsx';
import { LinkedPanel } from './LinkedPanel.tsx';
import { PICTURES, SYMBOLS, type TestWords } from './pictures/index.ts';
import { RangeNote } from './RangeNote.tsx';
import { RelationEditor } from './RelationEditor.tsx';

const MARKS: Readonly<Record<string, string>> = {
  circle: '○',
  square: '□',
  diamond: '◇',
  'triangle-up': '△',
  cross: '✚',
  star: '☆',
};

/** Candidate relations side by side, and everything that speaks for or against the one that is shown. */
export function RelationsView({ tests, overview }: { tests: Tests; overview: Overview }) {
  const { candidates, shown, leftOut } = useCalibration();
  const stored = useWindow((s) => s.stored);
  const { value, failure, waiting } = useAnswer(
    'calibration.tryRelations',
    { candidates: [...candidates], leftOut: [...leftOut] },
    stored,
  );
  const species = useMemo(() => [...new Set(tests.tests.map((test) => test.species))], [tests]);
  const wordsOf = useMemo(() => nameTests(tests, species), [tests, species]);
  const tried = value?.relations.find(({ name }) => name === shown);
  const judged = tried?.judged ?? null;
  return (
    <div className="choices-and-results">
      <div className="relations-side">
        <RelationEditor predictors={overview.predictors} />
        <ChosenTests tests={tests.tests} judged={judged} />
      </div>
      <div className="relations-main" aria-busy={waiting}>
        <ComparisonTable tried={value} />
        <SeriesNotes notes={tests.notes} />
        {value && value.unused.length > 0 && (
          <p className="common-tests">
            All are judged on the {value.commonTests} tests that every one of them can use;{' '}
            {value.unused.length} lack what some relation needs.
          </p>
        )}
        {failure && <ErrorNote failure={failure} />}
        {!value && !failure && (
          <Waiting what="Fitting the relations and judging each without the poles it predicts." />
        )}
        {tried?.problem && <ErrorNote failure={tried.problem} />}
        {judged && (
          <>
            <RangeNote judged={judged} />
            <div className="picture-grid">
              {PICTURES.map((kind) => (
                <LinkedPanel key={kind.title} kind={kind} judged={judged} wordsOf={wordsOf} />
              ))}
              <LearningPanel />
            </div>
            <ul className="mark-key" aria-label="Marks of the species">
              {species.map((name, i) => (
                <li key={name}>
                  <span aria-hidden>{MARKS[SYMBOLS[i % SYMBOLS.length]!]}</span> {describeSpecies(name)}
                </li>
              ))}
              <li className="quiet">filled: chosen</li>
            </ul>
          </>
        )}
      </div>
    </div>
  );
}

function nameTests({ tests }: Tests, species: readonly string[]): (testId: number) => TestWords {
  const byId = new Map(
    tests.map((test) => [
      test.testId,
      { name: test.poleId, symbol: SYMBOLS[species.indexOf(test.species) % SYMBOLS.length]! },
    ]),
  );
  return (testId) => byId.get(testId) ?? { name: `test ${testId}`, symbol: SYMBOLS[0] };
}
