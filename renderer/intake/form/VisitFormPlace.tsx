import './form.css';
import { Button } from '@mantine/core';
import { useEffect } from 'react';
import { Waiting } from '../../parts/index.ts';
import { beginDraft, recallDrafts, useDrafts } from './draftStore.ts';
import { VisitForm } from './VisitForm.tsx';

/** The place in which a visit is written down by hand. */
export function VisitFormPlace() {
  const { drafts, openId, workspace, set } = useDrafts();
  useEffect(() => void recallDrafts(), []);
  const open = drafts.find(({ id }) => id === openId) ?? drafts.at(-1);
  if (workspace === null && !open) {
    return (
      <main className="place">
        <h1 className="visually-hidden">New visit</h1>
        <Waiting what="Looking for visits that are still being written down." />
      </main>
    );
  }
  if (!open) {
    return (
      <main className="place empty">
        <h1>Write a visit down</h1>
        <p>
          Type what the crew wrote on its sheet, in its own units, and attach the recordings. What you type is
          kept at once, also over a restart, until you bring the visit in or give it up.
        </p>
        <Button size="sm" onClick={() => void beginDraft()}>
          Begin
        </Button>
      </main>
    );
  }
  return (
    <main className="place visit-form">
      <div className="form-drafts">
        <h1>Write a visit down</h1>
        {drafts.length > 1 &&
          drafts.map(({ id, answers, begunAt }) => (
            <Button
              key={id}
              size="compact-sm"
              variant={id === open.id ? 'filled' : 'default'}
              aria-pressed={id === open.id}
              onClick={() => set({ openId: id })}
            >
              {answers.pole.id.text || `begun ${begunAt.slice(0, 10)}`}
            </Button>
          ))}
        <Button size="compact-sm" variant="default" onClick={() => void beginDraft()}>
          Begin another
        </Button>
      </div>
      <VisitForm key={open.id} draft={open} />
    </main>
  );
}
