import { Button, Progress, TextInput } from '@mantine/core';
import { useEffect, useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote, Panel } from '../../parts/index.ts';
import { useTyped, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import type { Overview, RecomputeProgress } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';

/** How often progress is asked for while a recompute runs. */
const ASK_EVERY_MS = 250;

/** Brings the results of the whole workspace under a calibration, in the background, with progress and a way to stop it. */
export function RecomputePanel({ overview }: { overview: Overview }) {
  const { progress, failure, take } = useProgress();
  const [label, setLabel] = useState(overview.inForce.label);
  const [askedBy, setAskedBy] = useTyped('recompute', 'askedBy', '');
  const wanted = overview.calibrations.find((calibration) => calibration.label === label);
  const isRunning = progress?.state === 'running';

  async function start(): Promise<void> {
    if (!wanted) return;
    take(
      await callHost('calibration.recompute', {
        calibrationId: wanted.calibrationId,
        askedBy: askedBy.trim(),
      }),
    );
  }

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
            <Button
              size="compact-sm"
              variant="default"
              onClick={async () => take(await callHost('calibration.cancelRecompute', {}))}
            >
              Cancel
            </Button>
          ) : (
            <Button
              size="compact-sm"
              disabled={askedBy.trim() === '' || !wanted}
              onClick={() => void start()}
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
        {failure && <ErrorNote failure={failure} />}
        <p className="quiet">
          Stem and root stay as they are. Every visit gets a new result beside the one it has; nothing is
          overwritten. Cancelled, nothing is stored at all.
        </p>
      </div>
    </Panel>
  );
}

type Answer = { ok: true; value: RecomputeProgress } | ({ ok: false } & Failure);

/** Where a recompute is; asked again while one runs. When it is done, its differences are shown. */
function useProgress() {
  const noteStored = useWindow((s) => s.noteStored);
  const showDifferences = useCalibration((s) => s.showDifferences);
  const [progress, setProgress] = useState<RecomputeProgress | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);

  function take(answer: Answer): void {
    setFailure(answer.ok ? null : answer);
    if (answer.ok) setProgress(answer.value);
  }

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once at first, then as long as one runs.
  useEffect(() => {
    if (progress !== null && progress.state !== 'running') {
      if (progress.state === 'completed') {
        showDifferences(progress.recomputeId);
        noteStored();
      }
      return;
    }
    const timer = setTimeout(
      async () => take(await callHost('calibration.recomputeProgress', {})),
      progress === null ? 0 : ASK_EVERY_MS,
    );
    return () => clearTimeout(timer);
  }, [progress]);

  return { progress, failure, take };
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
