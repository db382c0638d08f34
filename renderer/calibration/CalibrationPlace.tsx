import './calibration.css';
import { Button } from '@mantine/core';
import { IconRosetteDiscountCheck } from '@tabler/icons-react';
import { useState } from 'react';
import { Cautions, ErrorNote, Waiting } from '../parts/index.ts';
import { useAnswer, useWindow } from '../state/index.ts';
import type { Overview, Tests } from './calibrationTypes.ts';
import { PublishDialog } from './PublishDialog.tsx';
import { RelationsView } from './relations/RelationsView.tsx';
import { RequirementView } from './requirement/RequirementView.tsx';
import { ReadTestsDialog } from './tests/ReadTestsDialog.tsx';
import { TestsView } from './tests/TestsView.tsx';
import { ThresholdView } from './threshold/ThresholdView.tsx';
import { type CalibrationView, useCalibration } from './useCalibration.ts';
import { useKeptChoices } from './useKeptChoices.ts';
import { VersionsView } from './versions/VersionsView.tsx';

const VIEWS: readonly { view: CalibrationView; name: string }[] = [
  { view: 'tests', name: 'Break tests' },
  { view: 'relations', name: 'Relations' },
  { view: 'threshold', name: 'Threshold' },
  { view: 'requirement', name: 'Requirement' },
  { view: 'versions', name: 'Versions' },
];

/** The place of the R&D engineer: break tests, relations, the price of a threshold, versions and what they change. */
export default function CalibrationPlace() {
  const stored = useWindow((s) => s.stored);
  const { view, openView } = useCalibration();
  const [reading, setReading] = useState(false);
  const [publishing, setPublishing] = useState(false);
  const overview = useAnswer('calibration.overview', {}, stored);
  const tests = useAnswer('calibration.tests', {}, stored);
  const cautions = useAnswer('workspace.describe', {}).value?.cautions ?? [];
  useKeptChoices();
  const failure = overview.failure ?? tests.failure;
  const hasTests = (tests.value?.tests.length ?? 0) > 0;
  return (
    <main className="place calibration">
      <div className="calibration-head">
        <h1>Calibration</h1>
        <nav aria-label="Parts of the calibration place">
          {VIEWS.map(({ view: own, name }) => (
            <button
              key={own}
              type="button"
              aria-current={own === view ? 'true' : undefined}
              onClick={() => openView(own)}
            >
              {name}
            </button>
          ))}
        </nav>
        <span className="spring" />
        {overview.value && (
          <span className="quiet">
            New results take <strong>{overview.value.inForce.label}</strong>
            {restsOnSetAside(overview.value) && '; some of its tests are set aside'}
          </span>
        )}
        <Button size="compact-sm" variant="default" onClick={() => setReading(true)}>
          Bring in break tests
        </Button>
        <Button
          size="compact-sm"
          variant="default"
          leftSection={<IconRosetteDiscountCheck size={15} />}
          disabled={!hasTests}
          title={hasTests ? 'Keep the shown relation for good' : 'Bring in break tests first'}
          onClick={() => setPublishing(true)}
        >
          Publish
        </Button>
      </div>
      {failure && <ErrorNote failure={failure} />}
      {!failure && (!overview.value || !tests.value) && (
        <Waiting what="Reading break tests and calibrations." />
      )}
      {overview.value && tests.value && (
        <ShownView
          view={view}
          overview={overview.value}
          tests={tests.value}
          onRead={() => setReading(true)}
        />
      )}
      <Cautions sentences={cautions} />
      {reading && <ReadTestsDialog onClose={() => setReading(false)} />}
      {publishing && (
        <PublishDialog overview={overview.value} tests={tests.value} onClose={() => setPublishing(false)} />
      )}
    </main>
  );
}

function restsOnSetAside({ calibrations, inForce }: Overview): boolean {
  return calibrations.some(
    ({ calibrationId, setAside }) => calibrationId === inForce.calibrationId && setAside !== null,
  );
}

type ShownViewProps = { view: CalibrationView; overview: Overview; tests: Tests; onRead: () => void };

function ShownView({ view, overview, tests, onRead }: ShownViewProps) {
  if (view === 'requirement') return <RequirementView />;
  if (view === 'versions') return <VersionsView overview={overview} />;
  if (tests.sets.length === 0) return <NoTests onRead={onRead} />;
  if (view === 'tests') return <TestsView tests={tests} />;
  if (tests.tests.length === 0) return <p className="place empty">All break tests are set aside.</p>;
  if (view === 'relations') return <RelationsView tests={tests} overview={overview} />;
  return <ThresholdView />;
}

function NoTests({ onRead }: { onRead: () => void }) {
  return (
    <div className="place empty">
      <h2>No break tests in this workspace yet</h2>
      <p>
        A break test is a pole that was measured and then broken on purpose. Bring in a table (CSV) with one
        pole a row: its girth, the load that broke it and where that was applied, and what was measured
        before. Until then the handbook’s calibration stands in.
      </p>
      <Button size="sm" onClick={onRead}>
        Bring in break tests
      </Button>
    </div>
  );
}
