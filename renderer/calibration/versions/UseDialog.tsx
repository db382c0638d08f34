import { Button } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../../client.ts';
import { ErrorNote } from '../../parts/index.ts';
import { forgetTyped, useAnswer, useWindow } from '../../state/index.ts';
import type { Failure } from '../../types.ts';
import { AppraisalNote } from '../AppraisalNote.tsx';
import type { ListedCalibration } from '../calibrationTypes.ts';
import { SmallDialog } from '../SmallDialog.tsx';
import { useWhoAndWhy, WhoAndWhy } from '../WhoAndWhy.tsx';

/** Says what is put to use, and has new results take it, with who chose it and why. */
export function UseDialog(props: {
  calibration: ListedCalibration;
  /** The one in force now; null: the handbook’s. */
  inForce: number | null;
  onClose: () => void;
}) {
  const { calibration, inForce, onClose } = props;
  const noteStored = useWindow((s) => s.noteStored);
  const form = `use ${calibration.calibrationId}`;
  const { chosenBy, reason } = useWhoAndWhy(form);
  const [failure, setFailure] = useState<Failure | null>(null);
  const appraisal = useAnswer('calibration.appraise', { calibrationId: calibration.calibrationId });
  const isWeak = (appraisal.value?.weaknesses.length ?? 0) > 0;

  async function choose(): Promise<void> {
    const answer = await callHost('calibration.use', {
      calibrationId: calibration.calibrationId,
      chosenBy,
      reason,
      seenInForce: inForce,
    });
    if (!answer.ok) {
      if (answer.code === 'store.conflict') noteStored();
      return setFailure(answer);
    }
    noteStored();
    forgetTyped(form);
    onClose();
  }

  return (
    <SmallDialog title={`Use ${calibration.label} for new results`} size="lg" onClose={onClose}>
      <p>
        Visits assessed from now on take this calibration. Results that are there stay as they are; to bring
        them under it, recompute them.
      </p>
      <AppraisalNote answer={appraisal} />
      <WhoAndWhy form={form} why={isWeak ? 'Why all the same' : 'Why (optional)'} />
      {failure && <ErrorNote failure={failure} />}
      <div className="dialog-commands">
        <Button
          size="sm"
          disabled={chosenBy === '' || appraisal.value === null || (isWeak && reason === '')}
          onClick={() => void choose()}
        >
          Use it
        </Button>
      </div>
    </SmallDialog>
  );
}
