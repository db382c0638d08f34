import { Button, TextInput } from '@mantine/core';
import { type FormEvent, useId, useState } from 'react';
import { decide, forgetTyped, strikeDecisionFor, useBench, useTyped, withdraw } from '../state/index.ts';
import type { Strike } from '../types.ts';

/** Has a strike count, or leaves it out, whatever its checks say; with the reason, which is kept with the result. */
export function StrikeOverrule({ strike, index }: { strike: Strike; index: number }) {
  const { visitId, choices, change } = useBench();
  const decision = strikeDecisionFor(choices.decisions, strike.recording, index);
  const isUsed = strike.verdict !== 'repeat';
  const form = `strike ${visitId} ${strike.recording} ${index}`;
  const [asking, setAsking] = useTyped(form, 'asking', false);
  const [reason, setReason] = useTyped(form, 'reason', '');
  const [tried, setTried] = useState(false);
  const id = useId();
  const name = `strike ${index + 1} of ${strike.recording}`;

  if (decision) {
    return (
      <p>
        <strong>{decision.use ? 'Used' : 'Left out'} by hand</strong>: {decision.reason}{' '}
        <Button
          size="compact-xs"
          variant="default"
          aria-label={`Leave ${name} to its checks`}
          onClick={() =>
            change({ decisions: withdraw(choices.decisions, decision) }, `${name} left to its checks`)
          }
        >
          as its checks say
        </Button>
      </p>
    );
  }

  function overrule(event: FormEvent): void {
    event.preventDefault();
    setTried(true);
    if (reason.trim() === '') return;
    change(
      {
        decisions: decide(choices.decisions, {
          kind: 'strike',
          recording: strike.recording,
          strike: index,
          use: !isUsed,
          reason: reason.trim(),
        }),
      },
      `${name} ${isUsed ? 'left out' : 'used'}`,
    );
    forgetTyped(form);
    setTried(false);
  }

  const words = isUsed ? 'Leave out' : 'Use all the same';
  if (!asking) {
    return (
      <Button
        size="compact-xs"
        variant="default"
        aria-label={`${words}: ${name}`}
        onClick={() => setAsking(true)}
      >
        {words}
      </Button>
    );
  }
  return (
    <form className="overrule-form" onSubmit={overrule} noValidate>
      <TextInput
        id={id}
        size="xs"
        label={`${words}, because`}
        value={reason}
        maxLength={400}
        error={tried && reason.trim() === '' ? 'Give the reason' : null}
        onChange={(event) => setReason(event.currentTarget.value)}
        data-autofocus
      />
      <Button size="compact-sm" type="submit">
        {words}
      </Button>
      <Button size="compact-sm" variant="default" onClick={() => setAsking(false)}>
        Cancel
      </Button>
    </form>
  );
}
