import './bench.css';
import { memo, useEffect, useMemo, useState } from 'react';
import { Cautions, ErrorNote, Waiting } from '../parts/index.ts';
import {
  forgetTyped,
  type UnderWay,
  useAnswer,
  useBench,
  useBenches,
  useFitAhead,
  useKept,
  useKeptBench,
  useSame,
  useSameEach,
  useWindow,
} from '../state/index.ts';
import type { Bench, Reading } from '../types.ts';
import { BenchHead } from './BenchHead.tsx';
import { bestStrike } from './bestStrike.ts';
import { CapacityPanel } from './CapacityPanel.tsx';
import { NotesPanel } from './NotesPanel.tsx';
import { PicksPanel } from './PicksPanel.tsx';
import { pickRows, planesOf } from './pickRows.ts';
import { TracedFrom } from './provenance/index.ts';
import { RecordingPanel } from './RecordingPanel.tsx';
import { nameFresh } from './RulingNotes.tsx';
import { SpectrumPanel } from './SpectrumPanel.tsx';
import { StemRootPanel } from './StemRootPanel.tsx';
import { stretchesOf, turnToPlanes } from './stretches.ts';
import { useOvertaken } from './useOvertaken.ts';
import { usePicks } from './usePicks.ts';
import { useStepBack } from './useStepBack.ts';
import { useThought } from './useThought.ts';
import { useTrial } from './useTrial.ts';
import { YearsView } from './years/YearsView.tsx';

const NOT_READ: readonly Reading[] = [];

/** The second place: everything about one visit. */
export function BenchPlace({ visitId }: { visitId: number }) {
  const stored = useWindow((s) => s.stored);
  const begin = useBenches((s) => s.begin);
  const begun = useBenches((s) => s.trails[visitId] !== undefined);
  // asked for first, so that the recordings are being read while the result is looked up and drawn
  const readings = useAnswer('visit.recordings', { visitId });
  const { value, failure } = useAnswer('visit.open', { visitId }, stored);
  const kept = useKeptBench(visitId);
  useEffect(() => {
    if (value && kept !== undefined) begin(visitId, value.decisions, kept);
  }, [value, visitId, begin, kept]);

  if (!value || !begun) {
    return (
      <main className="place">
        <h1 className="visually-hidden">Bench</h1>
        {failure ? <ErrorNote failure={failure} /> : <Waiting what="Opening the visit." />}
      </main>
    );
  }
  return (
    <>
      {failure && <ErrorNote failure={failure} />}
      <OpenBench bench={value} readings={readings.value?.readings ?? NOT_READ} />
    </>
  );
}

/** What a bench is drawn from; readings are empty until the recordings have been read. */
type OpenBenchProps = { bench: Bench; readings: readonly Reading[] };

const OpenBench = memo(function OpenBench({ bench, readings }: OpenBenchProps) {
  const { visitId } = bench;
  const { choices, settings } = useBench();
  const { decisions } = choices;
  const trial = useTrial(bench, decisions);
  const { assessment, waiting } = trial;
  const isOvertaken = useOvertaken(trial);
  // of every new answer, only what is new is drawn again
  const planes = useSame(useMemo(() => planesOf(bench, assessment), [bench, assessment]));
  const rows = useSameEach(
    useMemo(
      () => pickRows(planes, assessment, decisions, !waiting),
      [planes, assessment, decisions, waiting],
    ),
  );
  const commands = usePicks(visitId, rows);
  const thinking = useThought(visitId, decisions);
  const strikes = useSame(
    useMemo(
      () =>
        (assessment?.strikes ?? []).filter((s) => s.recording === bench.recordings[settings.recording]?.file),
      [assessment, bench, settings.recording],
    ),
  );
  const chosen = settings.strike === 'best' ? bestStrike(strikes) : settings.strike;
  const strike = typeof chosen === 'number' && chosen >= strikes.length ? null : chosen;
  const stretches = useMemo(() => stretchesOf(strikes, strike), [strikes, strike]);
  const turnDeg = turnToPlanes(planes, bench.recordings[settings.recording]?.azimuthsDeg ?? []);
  useStepBack(visitId);
  useFitAhead(visitId, trial.stored && readings.length > 0 ? bench.decisions : null);
  useEffect(() => () => forgetTyped(nameFresh(visitId)), [visitId]);
  useKept('underway', { visitId, poleId: bench.visit.pole.id, isStored: trial.stored } satisfies UnderWay);
  const [showsYears, setShowsYears] = useState(false);
  const [hasTallNotes, setTallNotes] = useState(false);

  const storedAs =
    trial.stored && bench.assessmentId !== null ? `assessment ${bench.assessmentId}` : 'not stored';

  return (
    <TracedFrom assessment={assessment} visit={bench.visit} storedAs={storedAs}>
      <main className="place bench">
        <BenchHead bench={bench} trial={trial} showsYears={showsYears} onShowYears={setShowsYears} />
        {showsYears ? (
          <YearsView visitId={visitId} />
        ) : (
          <div className={classesOf(choices.thought !== null, hasTallNotes)}>
            <div
              className={settings.spectrumKind === 'orders' ? 'bench-signals has-orders' : 'bench-signals'}
            >
              <RecordingPanel
                bench={bench}
                readings={readings}
                strikes={strikes}
                strike={strike}
                planes={planes}
              />
              <SpectrumPanel
                visitId={visitId}
                strike={strike}
                stretches={stretches}
                isJudged={assessment !== null || trial.failure !== null}
                turnDeg={settings.axes === 'planes' ? turnDeg : 0}
                rows={rows}
                planes={planes}
                otherPeaks={assessment?.otherPeaks ?? []}
                whatIf={thinking.whatIf}
                commands={commands}
              />
              <PicksPanel rows={rows} commands={commands} waiting={waiting} isOvertaken={isOvertaken} />
            </div>
            <div className="bench-results">
              <StemRootPanel
                trial={trial}
                isOvertaken={isOvertaken}
                thinking={thinking}
                visit={bench.visit}
              />
              <CapacityPanel assessment={assessment} waiting={waiting} isOvertaken={isOvertaken} />
            </div>
            <NotesPanel
              bench={bench}
              readings={readings}
              assessment={assessment}
              isStored={trial.stored}
              planes={planes}
              commands={commands}
              isTall={hasTallNotes}
              onTall={setTallNotes}
            />
          </div>
        )}
        {assessment && <Cautions sentences={assessment.cautions} />}
      </main>
    </TracedFrom>
  );
});

function classesOf(isThought: boolean, hasTallNotes: boolean): string {
  return ['bench-grid', isThought && 'is-thought', hasTallNotes && 'has-tall-notes']
    .filter(Boolean)
    .join(' ');
}
