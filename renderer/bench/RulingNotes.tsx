import { Button, NativeSelect, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote } from '../parts/index.ts';
import { useWindow } from '../state/index.ts';
import type { Failure, Ruling } from '../types.ts';

const DECISIONS: readonly Ruling['decision'][] = [
  'keep',
  'watch',
  'measure again',
  'excavate and bore',
  'replace or restore',
];

const ANALYST_KEY = 'stemroot.analyst';

/** What a ruling is about: a visit and the stored result that its analyst sees. */
type Subject = { visitId: number; assessmentId: number | null };

type RulingNotesProps = Subject & {
  rulings: readonly Ruling[];
  /** Whether the bench shows the stored result, not a trial of other picks. */
  isShown: boolean;
};

/** What analysts decided about this visit, and the next ruling. */
export function RulingNotes({ rulings, isShown, ...subject }: RulingNotesProps) {
  return (
    <>
      <RulingForm {...subject} />
      {rulings.length === 0 && <p className="quiet">No ruling on this visit yet.</p>}
      <ol className="rulings" aria-label="Rulings on this visit">
        {rulings.map((ruling) => (
          <li key={ruling.rulingId}>
            <strong>{ruling.decision}</strong>, {ruling.analyst},{' '}
            <time dateTime={ruling.decidedAt}>{ruling.decidedAt.slice(0, 16).replace('T', ' ')}</time>
            <span className="quiet"> {nameResult(ruling.assessmentId, subject.assessmentId, isShown)}</span>
            <br />
            {ruling.reason}
          </li>
        ))}
      </ol>
    </>
  );
}

function nameResult(ruledId: number | null, storedId: number | null, isShown: boolean): string {
  if (ruledId === null) return 'before any result was stored';
  if (ruledId !== storedId) return 'on an earlier result';
  return isShown ? 'on the result shown' : 'on the stored result';
}

function RulingForm({ visitId, assessmentId }: Subject) {
  const noteStored = useWindow((s) => s.noteStored);
  const [decision, setDecision] = useState<Ruling['decision'] | ''>('');
  const [analyst, setAnalyst] = useState(() => localStorage.getItem(ANALYST_KEY) ?? '');
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  const [saving, setSaving] = useState(false);
  const [failure, setFailure] = useState<Failure | null>(null);
  const missing = {
    decision: decision === '' ? 'Choose a decision' : null,
    analyst: analyst.trim() === '' ? 'Say who decides' : null,
    reason: reason.trim() === '' ? 'Give the reason' : null,
  };
  const shown = (word: string | null) => (tried ? word : null);

  async function save(event: FormEvent): Promise<void> {
    event.preventDefault();
    setTried(true);
    if (decision === '' || missing.analyst || missing.reason) return;
    setSaving(true);
    const answer = await callHost('visit.rule', { visitId, assessmentId, analyst, decision, reason });
    setSaving(false);
    setFailure(answer.ok ? null : answer);
    if (!answer.ok) return;
    localStorage.setItem(ANALYST_KEY, analyst);
    setDecision('');
    setReason('');
    setTried(false);
    noteStored();
  }

  return (
    <form className="ruling-form" onSubmit={(event) => void save(event)} noValidate>
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
      <Button size="compact-sm" type="submit" disabled={saving}>
        Save ruling
      </Button>
      <Textarea
        size="xs"
        className="ruling-reason"
        label="Reason"
        rows={2}
        value={reason}
        error={shown(missing.reason)}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      {failure && <ErrorNote failure={failure} />}
    </form>
  );
}
