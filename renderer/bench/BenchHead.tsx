import { ActionIcon, Button } from '@mantine/core';
import { IconArrowBackUp, IconArrowForwardUp, IconDeviceFloppy, IconFileDownload } from '@tabler/icons-react';
import { useId, useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote, saveFile } from '../parts/index.ts';
import { sameDecisions, useDecisions, useWindow } from '../state/index.ts';
import type { Bench, Failure } from '../types.ts';
import { describeClass, describeSpecies, formatEstimate, formatSignificant } from '../words/index.ts';
import type { Trial } from './useTrial.ts';

const PA_PER_GPA = 1e9;

const STORE_FIRST = 'store the picks first: a report shows the stored result';

/** Which pole, when, what came of it, and what can be done with the visit as a whole. */
export function BenchHead({ bench, trial }: { bench: Bench; trial: Trial }) {
  const { visitId, visit } = bench;
  const trail = useDecisions((s) => s.trails[visitId]);
  const { undo, redo } = useDecisions.getState();
  const noteStored = useWindow((s) => s.noteStored);
  const [busy, setBusy] = useState<string | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const wordsId = useId();
  const isFailedAsStored =
    trial.assessment === null && trail !== undefined && sameDecisions(trail.present, trail.stored);
  const reportable = bench.assessmentId !== null && (trial.stored || isFailedAsStored);

  async function store(): Promise<void> {
    setBusy('Assessing with these picks and storing the result.');
    const answer = await callHost('visit.assess', { visitId, decisions: [...(trail?.present ?? [])] });
    setBusy(null);
    setFailure(answer.ok ? null : answer);
    if (answer.ok) noteStored();
  }

  async function report(): Promise<void> {
    setBusy('Writing the report.');
    const answer = await callHost('visit.report', { visitId });
    setBusy(null);
    setFailure(answer.ok ? null : answer);
    if (answer.ok) saveFile(answer.value.fileName, answer.value.html, 'text/html');
  }

  return (
    <div className="bench-head">
      <h1>{visit.pole.id}</h1>
      <span className="bench-pole">
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
        <span id={wordsId} className="quiet bench-report-words">
          {STORE_FIRST}
        </span>
      )}
      <ActionIcon
        variant="default"
        size={26}
        aria-label="Undo the last decision"
        title="Undo the last decision (Ctrl+Z)"
        disabled={!trail?.past.length}
        onClick={() => undo(visitId)}
      >
        <IconArrowBackUp size={16} />
      </ActionIcon>
      <ActionIcon
        variant="default"
        size={26}
        aria-label="Redo the decision"
        title="Redo the decision (Ctrl+Shift+Z)"
        disabled={!trail?.future.length}
        onClick={() => redo(visitId)}
      >
        <IconArrowForwardUp size={16} />
      </ActionIcon>
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
        leftSection={<IconFileDownload size={16} />}
        disabled={busy !== null || !reportable}
        title={reportable ? undefined : STORE_FIRST}
        aria-describedby={reportable ? undefined : wordsId}
        onClick={() => void report()}
      >
        Report
      </Button>
      {failure && <ErrorNote failure={failure} />}
    </div>
  );
}

function sayState(trial: Trial): string {
  if (trial.failure) return 'failed';
  if (!trial.assessment) return 'being assessed for the first time';
  return trial.stored
    ? `${trial.assessment.verdict}, stored`
    : `${trial.assessment.verdict}, picks not stored`;
}

/** What a screen reader hears after each change of a pick. */
function sayResult({ waiting, assessment }: Trial): string {
  if (waiting) return 'Fitting stem and root anew.';
  const stem = assessment?.stem;
  return stem ? `E ${formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}` : '';
}
