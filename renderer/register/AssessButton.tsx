import { Button } from '@mantine/core';
import { useRef, useState } from 'react';
import { callHost } from '../client.ts';
import { type SelectedVisit, useWindow } from '../state/index.ts';

type Progress = { done: number; of: number; failed: number; poleId: string };

/** Assesses the chosen visits that have no result yet, one after the other, until it is told to stop. */
export function AssessButton({ visits, onDone }: { visits: readonly SelectedVisit[]; onDone: () => void }) {
  const noteStored = useWindow((s) => s.noteStored);
  const [progress, setProgress] = useState<Progress | null>(null);
  const stopRef = useRef(false);
  const waiting = visits.filter((visit) => visit.assessmentId === null);

  async function assess(): Promise<void> {
    stopRef.current = false;
    let failed = 0;
    for (const [done, { visitId, poleId }] of waiting.entries()) {
      if (stopRef.current) break;
      setProgress({ done, of: waiting.length, failed, poleId });
      const answer = await callHost('visit.assess', { visitId, decisions: [] });
      // why it failed is stored with the visit, and stands in its row
      if (!answer.ok) failed += 1;
    }
    setProgress(null);
    onDone();
    noteStored();
  }

  if (progress) {
    return (
      <span role="status">
        Assessing {progress.poleId}, {progress.done + 1} of {progress.of}
        {progress.failed > 0 && `, ${progress.failed} failed`}.{' '}
        <Button
          size="compact-xs"
          variant="default"
          onClick={() => {
            stopRef.current = true;
          }}
        >
          Stop after this one
        </Button>
      </span>
    );
  }
  if (waiting.length === 0) return null;
  return (
    <Button size="compact-sm" variant="default" onClick={() => void assess()}>
      Assess {waiting.length === 1 ? 'the one' : `the ${waiting.length}`} without a result
    </Button>
  );
}
