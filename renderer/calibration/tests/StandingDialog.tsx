import { Button } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote } from '../../parts/index.ts';
import { forgetTyped, useTyped, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import type { Tests } from '../calibrationTypes.ts';
import { SmallDialog } from '../SmallDialog.tsx';
import { useWhoAndWhy, WhoAndWhy } from '../WhoAndWhy.tsx';
import { AlreadyHere, type Answer, usualAnswer } from './AlreadyHere.tsx';
import { leaveOutAgain } from './leaveOutAgain.ts';

export type Standing = 'in use' | 'set aside';

/** Sets a table of break tests aside, or takes up again what of it is set aside, with who says so and why. */
export function StandingDialog(props: {
  set: Tests['sets'][number];
  standing: Standing;
  lastChoice: number;
  onClose: () => void;
}) {
  const { set, standing, lastChoice, onClose } = props;
  const noteStored = useWindow((s) => s.noteStored);
  const form = `${standing} ${set.setId}`;
  const { chosenBy, reason } = useWhoAndWhy(form);
  const [said, setSaid] = useTyped<Answer | null>(form, 'answer', null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const here = standing === 'in use' ? set.alreadyHere : null;
  const answer = here && (said ?? usualAnswer(here));

  async function choose(): Promise<void> {
    const result = await callHost('calibration.chooseTests', {
      ...{ setId: set.setId, standing, chosenBy, reason },
      ...(here && answer && { alreadyHere: { answer, earlier: here.earlier } }),
      seenChoice: lastChoice,
    });
    if (!result.ok) {
      if (result.code === 'store.conflict') noteStored();
      return setFailure(result);
    }
    leaveOutAgain(result.value.replaced);
    noteStored();
    forgetTyped(form);
    onClose();
  }

  const isAside = standing === 'set aside';
  return (
    <SmallDialog
      title={isAside ? `Set aside ${set.fileName}` : `Take up again ${set.fileName}`}
      size="lg"
      onClose={onClose}
    >
      <p>
        {isAside
          ? 'Relations are fitted without its tests from now on. Nothing is deleted, and a published calibration keeps the tests that it was fitted to.'
          : 'Relations are fitted to its tests again.'}
      </p>
      {here && <AlreadyHere here={here} answer={answer} onAnswer={setSaid} />}
      <WhoAndWhy form={form} why="Why (optional)" />
      {failure && <ErrorNote failure={failure} />}
      <div className="dialog-commands">
        <Button
          size="sm"
          disabled={chosenBy === '' || (here !== null && answer === null)}
          onClick={() => void choose()}
        >
          {isAside ? 'Set aside' : 'Take up again'}
        </Button>
      </div>
    </SmallDialog>
  );
}
