import { Button } from '@mantine/core';
import { Panel, ScrollRegion } from '../../parts/index.ts';
import { useWindow } from '../../state/index.ts';
import type { JudgedRelation, KeptTest } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';
import { errorOf, showMpa, showSigned } from './pictures/index.ts';

type ChosenTestsProps = { tests: readonly KeptTest[]; judged: JudgedRelation | null };

/** The tests chosen in the pictures, with the poles behind them, and what can be done with them. */
export function ChosenTests({ tests, judged }: ChosenTestsProps) {
  const { chosen, choose, leftOut, setLeftOut } = useCalibration();
  const openVisit = useWindow((s) => s.openVisit);
  const out = tests.filter(({ testId }) => leftOut.includes(testId)).length;
  const rows = chosen.flatMap((testId) => tests.find((test) => test.testId === testId) ?? []);
  return (
    <Panel
      title={chosen.length > 0 ? `Chosen (${chosen.length})` : 'Chosen tests'}
      controls={
        chosen.length > 0 && (
          <>
            <Button
              size="compact-xs"
              variant="default"
              title="Fit and judge without these tests"
              onClick={() => {
                setLeftOut([...new Set([...leftOut, ...chosen])]);
                choose([]);
              }}
            >
              Leave out
            </Button>
            <Button size="compact-xs" variant="default" onClick={() => choose([])}>
              Let go
            </Button>
          </>
        )
      }
    >
      {out > 0 && (
        <p className="left-out">
          {out === 1 ? '1 test is left out.' : `${out} tests are left out.`}{' '}
          <Button size="compact-xs" variant="default" onClick={() => setLeftOut([])}>
            Take all in again
          </Button>
        </p>
      )}
      {rows.length === 0 ? (
        <p className="nothing quiet">
          Click points in any picture, drag a box round them, or walk with the arrow keys and press Space.
          What is chosen in one is chosen in all.
        </p>
      ) : (
        <ScrollRegion className="chosen-tests" label="Chosen tests">
          <ul>
            {rows.map((test) => (
              <li key={test.testId}>
                <strong>{test.poleId}</strong> {describe(test, judged)}{' '}
                {test.visitId !== null && (
                  <Button size="compact-xs" variant="default" onClick={() => openVisit(test.visitId!)}>
                    Open the pole
                  </Button>
                )}
              </li>
            ))}
          </ul>
        </ScrollRegion>
      )}
    </Panel>
  );
}

function describe(test: KeptTest, judged: JudgedRelation | null): string {
  const own = judged?.tests.find(({ testId }) => testId === test.testId);
  const broke = `broke at ${showMpa(test.groundlineStressPa)} MPa`;
  if (!own) return `${broke}; not used`;
  if (own.predictedPa === null) return `${broke}; not to be predicted without itself`;
  return `${broke}, predicted ${showMpa(own.predictedPa)} MPa (${showSigned(errorOf(own))})`;
}
