import { Button } from '@mantine/core';
import { useState } from 'react';
import type { Tests } from '../calibrationTypes.ts';
import { RefusedRows } from './RefusedRows.tsx';
import { type Standing, StandingDialog } from './StandingDialog.tsx';

type TestSet = Tests['sets'][number];

/** The tables that break tests are from, each to be set aside and taken up again. */
export function TestSets({ tests: { sets, lastChoice } }: { tests: Tests }) {
  const [choosing, setChoosing] = useState<{ setId: number; standing: Standing } | null>(null);
  const chosen = sets.find(({ setId }) => setId === choosing?.setId);
  return (
    <>
      <ul className="test-sets">
        {sets.map((set) => (
          <TestSetLine
            key={set.setId}
            set={set}
            onChoose={(standing) => setChoosing({ setId: set.setId, standing })}
          />
        ))}
      </ul>
      {choosing && chosen && (
        <StandingDialog
          set={chosen}
          standing={choosing.standing}
          lastChoice={lastChoice}
          onClose={() => setChoosing(null)}
        />
      )}
    </>
  );
}

function TestSetLine({ set, onChoose }: { set: TestSet; onChoose: (standing: Standing) => void }) {
  const aside = set.setAside.reduce((sum, { tests }) => sum + tests, 0);
  return (
    <li>
      <strong>{set.fileName}</strong>, brought in {set.keptAt.slice(0, 10)}: {set.tests} tests
      {set.refused.length > 0 && `, ${set.refused.length} rows not taken`}{' '}
      <span className="quiet" title={`SHA-256 ${set.csvSha256}`}>
        SHA-256 {set.csvSha256.slice(0, 12)}…
      </span>{' '}
      {aside < set.tests && (
        <Button
          size="compact-xs"
          variant="default"
          aria-label={`Set aside ${set.fileName}`}
          onClick={() => onChoose('set aside')}
        >
          Set aside
        </Button>
      )}{' '}
      {aside > 0 && (
        <Button
          size="compact-xs"
          variant="default"
          aria-label={`Take up again ${set.fileName}`}
          onClick={() => onChoose('in use')}
        >
          Take up again
        </Button>
      )}
      {set.setAside.map(({ tests, chosenAt, chosenBy, reason }) => (
        <p key={`${chosenAt} ${chosenBy}`} className="quiet">
          {tests === set.tests ? 'Set aside' : `${tests} of its tests set aside`} on {chosenAt.slice(0, 10)}{' '}
          by {chosenBy}
          {reason && `: ${reason}`}
        </p>
      ))}
      {set.refused.length > 0 && <RefusedRows refused={set.refused} />}
    </li>
  );
}
