import './versions.css';
import { useState } from 'react';
import { useAnswer, useWindow } from '../../state/index.ts';
import type { Overview } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { DifferencesPanel } from './DifferencesPanel.tsx';
import { RecomputePanel } from './RecomputePanel.tsx';
import { VersionsPanel } from './VersionsPanel.tsx';

/** Published versions, which is in force, the workspace brought under another, and what that changes. */
export function VersionsView({ overview }: { overview: Overview }) {
  const { recomputeId, showDifferences } = useCalibration();
  const stored = useWindow((s) => s.stored);
  const newest = overview.recomputes[0]?.recomputeId ?? null;
  const shown = recomputeId ?? newest;
  const [only, setOnly] = useState<'crossed' | 'all'>('crossed');
  const differences = useAnswer(
    'calibration.differences',
    shown === null ? null : { recomputeId: shown, only },
    stored,
  );
  return (
    <div className="versions">
      <div className="versions-top">
        <VersionsPanel overview={overview} />
        <RecomputePanel overview={overview} />
      </div>
      <DifferencesPanel
        answer={differences}
        isAsked={shown !== null}
        only={only}
        onOnly={setOnly}
        recomputes={overview.recomputes}
        recomputeId={shown}
        onRecompute={showDifferences}
      />
    </div>
  );
}
