import { Button, TextInput } from '@mantine/core';
import { type FormEvent, useId, useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote } from '../parts/index.ts';
import type { Failure, Ruling } from '../types.ts';
import { useAnalyst } from './useAnalyst.ts';

/** How the program asks for a reason. */
const REASON_ASKED = 'ruling.reason';

/** Takes rulings back, and asks why where the program wants a reason for that. */
export function TakeBack({ rulings, onTakenBack }: { rulings: readonly Ruling[]; onTakenBack: () => void }) {
  const [analyst] = useAnalyst();
  const [failure, setFailure] = useState<Failure | null>(null);
  const [reason, setReason] = useState('');
  const isReasonAsked = failure?.code === REASON_ASKED;
  const because = isReasonAsked ? reason.trim() : '';
  const isNameless = analyst.trim() === '';
  const whyNot = useId();

  async function takeBack(event: FormEvent): Promise<void> {
    event.preventDefault();
    const answer = await callHost('rulings.withdraw', {
      rulingIds: rulings.map(({ rulingId }) => rulingId),
      person: analyst,
      ...(because !== '' && { reason: because }),
    });
    setFailure(answer.ok ? null : answer);
    if (answer.ok) onTakenBack();
  }

  return (
    <form className="take-back" onSubmit={(event) => void takeBack(event)}>
      {failure && <ErrorNote failure={failure} />}
      {isReasonAsked && (
        <TextInput
          size="xs"
          label="Taken back because"
          autoFocus
          value={reason}
          maxLength={4000}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
      )}
      <Button
        size="compact-xs"
        variant="default"
        type="submit"
        disabled={isNameless}
        aria-describedby={isNameless ? whyNot : undefined}
      >
        Take back
      </Button>
      {isNameless && (
        <span id={whyNot} className="quiet">
          Say under Analyst who takes it back.
        </span>
      )}
      {failure && (
        <Button
          size="compact-xs"
          variant="default"
          onClick={() => {
            setFailure(null);
            setReason('');
          }}
        >
          Let it stand
        </Button>
      )}
    </form>
  );
}
