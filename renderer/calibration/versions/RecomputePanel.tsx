import { Button, Progress, TextInput } from '@mantine/core';
import { useEffect, useState } from 'react';
import { ErrorNote, Panel } from '../../parts/index.ts';
import { useTyped } from '../../state/index.ts';
import type { Overview, RecomputeProgress } from '../calibrationTypes.ts';
import { useRecompute } from './recomputeStore.ts';

/** Brings the results of the whole workspace under a calibration, in the background, with progress and a way to stop it. */
export function RecomputePanel({ overview }: { overview: Overview }) {
  const { progress, failure, refusal, start, cancel, follow } = useRecompute();
  const [label, setLabel] = useState(overview.inForce.label);
  const [askedBy, setAskedBy] = useTyped('recompute', 'askedBy', '');
  const wanted = overview.calibrations.find((calibration) => calibration.label === label);
  const isRunning = progress?.state === 'running';

  // another window, or a visit to this place before, may have begun one
  useEffect(() => void follow(), [follow]);

  return (
    <Panel title="Recompute the workspace" remark="strength only">
      <div className="recompute">
        <div className="recompute-line">
          <label className="select-line">
            <span>Under</span>
            <select
              value={label}
              disabled={isRunning}
              onChange={(event) => setLabel(event.currentTarget.value)}
            >
              {overview.calibrations.map((calibration) => (
                <option key={calibration.label}>{calibration.label}</option>
              ))}
            </select>
          </label>
          <TextInput
            size="xs"
            aria-label="Your name"
            placeholder="Your name"
            value={askedBy}
            disabled={isRunning}
            onChange={(event) => setAskedBy(event.currentTarget.value)}
          />
          {isRunning ? (
            <Button size="compact-sm" variant="default" onClick={() => void cancel()}>
              Cancel
            </Button>
          ) : (
            <Button
              size="compact-sm"
              disabled={askedBy.trim() === '' || !wanted}
              onClick={() => wanted && void start(wanted.calibrationId, askedBy.trim())}
            >
              Recompute
            </Button>
          )}
        </div>
        {isRunning && (
          <Progress
            value={progress.total === 0 ? 0 : (100 * progress.done) / progress.total}
            aria-label="Visits recomputed"
          />
        )}
        <p role="status">{progress && describe(progress)}</p>
        {!isRunning && label !== overview.inForce.label && (
          <p>
            {label} is not in force: results shown will be under it, new ones under {overview.inForce.label}.
            Recompute under that to go back.
          </p>
        )}
        {refusal && <ErrorNote failure={refusal} />}
        {failure && <ErrorNote failure={failure} />}
        <p className="quiet">
          Stem and root stay as they are. Every visit gets a new result beside the one it has; nothing is
          overwritten. Cancelled, nothing is stored at all.
        </p>
      </div>
    </Panel>
  );
}

function describe({ state, calibration, done, total, secondsLeft, problem }: RecomputeProgress): string {
  if (state === 'idle') return '';
  if (state === 'running') {
    const left = secondsLeft === null ? '' : `, some ${Math.max(1, Math.round(secondsLeft))} s left`;
    return `Under ${calibration}: ${done} of ${total} visits${left}`;
  }
  if (state === 'completed') return `Under ${calibration}: done, ${total} visits looked at.`;
  if (state === 'cancelled')
    return `Under ${calibration}: cancelled after ${done} of ${total} visits; nothing was stored.`;
  return `Under ${calibration}: failed, nothing was stored. ${problem ?? ''}`;
}
