import { ActionIcon, Button } from '@mantine/core';
import {
  IconArrowBackUp,
  IconArrowForwardUp,
  IconDeviceFloppy,
  IconFileDownload,
  IconHistory,
  IconPlayerTrackNext,
} from '@tabler/icons-react';
import { useEffect, useId, useRef, useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote } from '../parts/index.ts';
import { useReports } from '../reports/index.ts';
import { readAhead, sameDecisions, useBenches, useRegister, useWindow } from '../state/index.ts';
import type { Bench, Failure } from '../types.ts';
import { describeClass, describeSpecies, formatEstimate, formatSignificant } from '../words/index.ts';
import type { Trial } from './useTrial.ts';

const PA_PER_GPA = 1e9;

/** By then a visit that was opened is drawn and analysed, and whoever works through a list will want the next one. */
const SETTLED_MS = 1500;

const STORE_FIRST = 'Store first: a report shows what is stored';

type BenchHeadProps = {
  bench: Bench;
  trial: Trial;
  /** Whether the pole over the years is in view instead of this visit. */
  showsYears: boolean;
  onShowYears: (shows: boolean) => void;
};

/** Which pole, when, what came of it, and what can be done with the visit as a whole. */
export function BenchHead({ bench, trial, showsYears, onShowYears }: BenchHeadProps) {
  const { visitId, visit } = bench;
  const trail = useBenches((s) => s.trails[visitId]);
  const noteStored = useWindow((s) => s.noteStored);
  const ask = useReports((s) => s.ask);
  const [busy, setBusy] = useState<string | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const wordsId = useId();
  const isFailedAsStored =
    trial.assessment === null && trail !== undefined && sameDecisions(trail.present.decisions, trail.stored);
  const reportable = bench.assessmentId !== null && (trial.stored || isFailedAsStored);

  async function store(): Promise<void> {
    setBusy('Assessing with these choices and storing the result.');
    const decisions = [...(trail?.present.decisions ?? [])];
    const seenAssessmentId = bench.assessmentId;
    const answer = await callHost('visit.assess', { visitId, decisions, seenAssessmentId });
    setBusy(null);
    setFailure(answer.ok ? null : answer);
    if (answer.ok || answer.code === 'store.conflict') noteStored();
  }

  return (
    <>
      <div className="bench-head">
        <h1>{visit.pole.id}</h1>
        <span className="bench-pole" title={`visit of ${visit.measured.date}`}>
          {describeSpecies(visit.pole.species)}, {describeClass(visit.pole.classCode)},{' '}
          {formatSignificant(visit.pole.lengthM)} m{visit.pole.setYear ? `, set ${visit.pole.setYear}` : ''}{' '}
          (visit of {visit.measured.date})
        </span>
        <span className="bench-verdict">{sayState(trial)}</span>
        <span className="spring" />
        <span className="quiet bench-busy" role="status">
          {busy ?? <span className="visually-hidden">{sayResult(trial)}</span>}
        </span>
        {!reportable && (
          <span id={wordsId} className="quiet bench-report-words" title={STORE_FIRST}>
            store first
            <span className="visually-hidden">: a report shows what is stored</span>
          </span>
        )}
        <StepButtons visitId={visitId} />
        <Button
          size="compact-sm"
          leftSection={<IconDeviceFloppy size={16} />}
          disabled={busy !== null || trial.stored}
          title={trial.stored ? 'This result is stored already' : undefined}
          onClick={() => void store()}
        >
          Assess and store
        </Button>
        <Button
          size="compact-sm"
          variant="default"
          aria-pressed={showsYears}
          leftSection={<IconHistory size={16} />}
          onClick={() => onShowYears(!showsYears)}
        >
          Years
        </Button>
        <Button
          size="compact-sm"
          variant="default"
          leftSection={<IconFileDownload size={16} />}
          disabled={busy !== null || !reportable}
          title={reportable ? undefined : STORE_FIRST}
          aria-describedby={reportable ? undefined : wordsId}
          onClick={() =>
            ask([{ words: `${visit.pole.id} of ${visit.measured.date}`, subject: { visitIds: [visitId] } }])
          }
        >
          Report
        </Button>
        <NextButton visitId={visitId} onFailure={setFailure} />
      </div>
      {failure && <ErrorNote failure={failure} />}
    </>
  );
}

/** One step back or forward through all that was chosen here, each saying what it is about. */
function StepButtons({ visitId }: { visitId: number }) {
  const trail = useBenches((s) => s.trails[visitId]);
  const { undo, redo } = useBenches.getState();
  const [last, next] = [trail?.past.at(-1), trail?.future[0]];
  return (
    <>
      <ActionIcon
        variant="default"
        size={26}
        aria-label={last ? `Undo: ${last.words}` : 'Undo: nothing yet'}
        title={last ? `Undo: ${last.words} (Ctrl+Z)` : undefined}
        disabled={!last}
        onClick={() => undo(visitId)}
      >
        <IconArrowBackUp size={16} />
      </ActionIcon>
      <ActionIcon
        variant="default"
        size={26}
        aria-label={next ? `Redo: ${next.words}` : 'Redo: nothing yet'}
        title={next ? `Redo: ${next.words} (Ctrl+Shift+Z)` : undefined}
        disabled={!next}
        onClick={() => redo(visitId)}
      >
        <IconArrowForwardUp size={16} />
      </ActionIcon>
    </>
  );
}

/** The next visit of the register's list that nobody has ruled on. */
function NextButton({ visitId, onFailure }: { visitId: number; onFailure: (f: Failure | null) => void }) {
  const { query, current, walkTo } = useRegister();
  const openVisit = useWindow((s) => s.openVisit);
  const [isLast, setLast] = useState(false);

  async function findNext() {
    const waiting = { ...query, ruled: 'waiting' as const, latestOnly: true };
    const here = await callHost('register.query', { ...waiting, locate: visitId, limit: 1 });
    if (!here.ok) return here;
    // a visit that was ruled on has left the list, and the next one stands in its place
    const offset = here.value.place === null ? (current?.place ?? 0) : here.value.place + 1;
    const next = await callHost('register.query', { ...waiting, offset, limit: 1 });
    return next.ok ? { ok: true as const, row: next.value.rows[0], place: offset } : next;
  }

  async function goOn(): Promise<void> {
    const next = await findNext();
    if (!next.ok) return onFailure(next);
    setLast(!next.row);
    if (!next.row) return;
    const { visitId } = next.row;
    walkTo({ visitId, place: next.place });
    openVisit(visitId);
  }

  async function lookAhead(): Promise<void> {
    const next = await findNext();
    if (next.ok) readAhead(next.row?.visitId);
  }
  const lookAheadRef = useRef(lookAhead);
  lookAheadRef.current = lookAhead;
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each visit that is opened.
  useEffect(() => {
    const timer = setTimeout(() => void lookAheadRef.current(), SETTLED_MS);
    return () => clearTimeout(timer);
  }, [visitId]);

  return (
    <Button
      size="compact-sm"
      variant="default"
      leftSection={<IconPlayerTrackNext size={16} />}
      disabled={isLast}
      title={isLast ? 'No visit of the list is left that nobody has ruled on' : 'The next visit not ruled on'}
      onClick={() => void goOn()}
      onPointerEnter={() => void lookAhead()}
      onFocus={() => void lookAhead()}
    >
      Next
    </Button>
  );
}

function sayState(trial: Trial): string {
  if (trial.failure) return 'failed';
  if (!trial.assessment) return 'being assessed for the first time';
  if (trial.waiting) return 'fitting anew';
  return trial.stored ? `${trial.assessment.verdict}, stored` : `${trial.assessment.verdict}, not stored`;
}

/** What a screen reader hears after each change of a choice. */
function sayResult({ waiting, assessment }: Trial): string {
  if (waiting) return 'Fitting stem and root anew.';
  const stem = assessment?.stem;
  if (assessment?.withheldBecause) return `Withheld: ${assessment.withheldBecause}`;
  return stem ? `E ${formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}` : '';
}
