import './ruling.css';
import { Button, NativeSelect, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { DECISIONS, tellUninspected } from '../../core/workspace/contract.ts';
import { callHost } from '../client.ts';
import { ErrorNote, ScrollRegion } from '../parts/index.ts';
import { forgetTyped, useTyped } from '../state/index.ts';
import type { Failure, Ruling } from '../types.ts';
import { useAnalyst } from './useAnalyst.ts';

/** A visit that is ruled on, and the stored result and the ruling that its analyst saw. */
type Subject = {
  visitId: number;
  poleId: string;
  isGroundLineInspected: boolean;
  assessmentId: number | null;
  standingRulingId: number | null;
};

type RulingFormProps = {
  visits: readonly Subject[];
  onSaved: (rulings: readonly Ruling[]) => void;
  /** Somebody else was quicker: what is shown is to be read anew. What was entered stays. */
  onOvertaken: () => void;
};

/** The next ruling, on one visit or on several for one reason. */
export function RulingForm({ visits, onSaved, onOvertaken }: RulingFormProps) {
  const form = `ruling ${visits.map(({ visitId }) => visitId).join(' ')}`;
  // of the result that it was chosen under: not of one that came after
  const under = visits.map(({ assessmentId }) => assessmentId).join(' ');
  const [decision, setDecision] = useTyped<Ruling['decision'] | ''>(form, `decision under ${under}`, '');
  const [analyst, setAnalyst] = useAnalyst();
  const [second, setSecond] = useTyped(form, 'second', '');
  const [reason, setReason] = useTyped(form, 'reason', '');
  const [tried, setTried] = useState(false);
  const [saving, setSaving] = useState(false);
  const [failed, setFailed] = useState<{ under: string; failure: Failure } | null>(null);
  // what spoke against an earlier result is nothing that anybody read of this one
  const failure = failed?.under === under ? failed.failure : null;
  const noteRef = useRef<HTMLElement>(null);
  // the button that was pressed may be gone; and below the fold nobody would see why nothing was saved
  useEffect(() => {
    if (failure) noteRef.current?.focus();
  }, [failure]);
  const uninspected = decision === 'keep' ? tellUninspected(visits) : null;
  const missing = {
    decision: decision === '' ? 'Choose a decision' : null,
    analyst: analyst.trim() === '' ? 'Say who decides' : null,
    reason: reason.trim() === '' ? 'Give the reason' : null,
  };
  const shown = (word: string | null) => (tried ? word : null);

  async function save(inSpite = false): Promise<void> {
    setTried(true);
    if (decision === '' || missing.analyst || missing.reason) return;
    setSaving(true);
    const answer = await callHost('visits.rule', {
      visits: visits.map(({ visitId, poleId, assessmentId, standingRulingId }) => ({
        visitId,
        poleId,
        assessmentId,
        seenRulingId: standingRulingId,
      })),
      analyst,
      decision,
      reason,
      inSpite,
      ...(second.trim() !== '' && { secondPerson: second }),
    });
    setSaving(false);
    setFailed(answer.ok ? null : { under, failure: answer });
    if (!answer.ok) {
      if (answer.code === 'store.conflict') onOvertaken();
      return;
    }
    forgetTyped(form);
    setTried(false);
    onSaved(answer.value.rulings);
  }

  return (
    <form
      className="ruling-form"
      onSubmit={(event: FormEvent) => {
        event.preventDefault();
        void save();
      }}
      noValidate
    >
      <NativeSelect
        size="xs"
        label="Decision"
        value={decision}
        error={shown(missing.decision)}
        data={[{ value: '', label: 'choose' }, ...DECISIONS]}
        onChange={(event) => setDecision(event.currentTarget.value as Ruling['decision'] | '')}
      />
      <TextInput
        size="xs"
        label="Analyst"
        value={analyst}
        error={shown(missing.analyst)}
        onChange={(event) => setAnalyst(event.currentTarget.value)}
      />
      <TextInput
        size="xs"
        label="Second signature"
        placeholder="if wanted"
        value={second}
        onChange={(event) => setSecond(event.currentTarget.value)}
      />
      {uninspected && <p className="ruling-note">{uninspected}</p>}
      <Textarea
        size="xs"
        className="ruling-reason"
        label="Reason"
        autosize
        minRows={1}
        maxRows={4}
        value={reason}
        error={shown(missing.reason)}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <Button size="compact-sm" type="submit" disabled={saving}>
        {visits.length === 1 ? 'Save ruling' : `Rule on ${visits.length} visits`}
      </Button>
      {failure && (
        <ScrollRegion label="Why nothing was saved" className="ruling-note ruling-failure" ref={noteRef}>
          <ErrorNote failure={failure} />
        </ScrollRegion>
      )}
      {failure?.code === 'ruling.against' && decision === 'keep' && (
        <Button
          className="ruling-in-spite"
          size="compact-sm"
          variant="default"
          disabled={saving}
          onClick={() => void save(true)}
        >
          Keep in spite of that
        </Button>
      )}
    </form>
  );
}
