import { Button, CloseButton, Modal } from '@mantine/core';
import { useEffect, useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote, ScrollRegion } from '../parts/index.ts';
import { RulingForm, TakeBack } from '../ruling/index.ts';
import { type SelectedVisit, useRegister, useWindow } from '../state/index.ts';
import type { Failure, Ruling } from '../types.ts';
import { AssessButton } from './AssessButton.tsx';

/** One call rules on this many visits at most, and one answer of the register holds as many. */
const MOST_AT_ONCE = 500;

/** What can be done with the visits that are chosen; and, until the register is left, taking back what was just ruled. */
export function BatchBar({ matching }: { matching: number }) {
  const { query, selected, select, clearSelection } = useRegister();
  const noteStored = useWindow((s) => s.noteStored);
  const [ruling, setRuling] = useState(false);
  const [ruled, setRuled] = useState<readonly Ruling[]>([]);
  const [failure, setFailure] = useState<Failure | null>(null);
  const chosen = [...selected.values()];
  useEscape(clearSelection);
  if (chosen.length === 0 && ruled.length === 0 && !failure) return null;

  async function chooseAll(): Promise<void> {
    const answer = await callHost('register.query', { ...query, limit: MOST_AT_ONCE });
    setFailure(answer.ok ? null : answer);
    if (answer.ok) select(answer.value.rows, true);
  }

  /** Those chosen, as they stand now. */
  async function lookAgain(): Promise<void> {
    const answer = await callHost('register.query', { ...query, limit: MOST_AT_ONCE });
    if (answer.ok) {
      select(
        answer.value.rows.filter(({ visitId, poleId }) => selected.get(visitId)?.poleId === poleId),
        true,
      );
    }
    noteStored();
  }

  return (
    <section className="register-bar" aria-label="Chosen visits">
      {chosen.length > 0 && (
        <>
          <strong>{nameChosen(chosen)}</strong>
          <Button size="compact-sm" disabled={chosen.length > MOST_AT_ONCE} onClick={() => setRuling(true)}>
            Rule on {chosen.length === 1 ? 'it' : 'them'}
          </Button>
          <AssessButton visits={chosen} onDone={clearSelection} />
          {chosen.length < matching && matching <= MOST_AT_ONCE && (
            <Button size="compact-sm" variant="default" onClick={() => void chooseAll()}>
              Choose all {matching} listed
            </Button>
          )}
          <Button size="compact-sm" variant="default" onClick={clearSelection}>
            Choose none
          </Button>
        </>
      )}
      {ruled.length > 0 && (
        <span role="status">
          Ruled “{ruled[0]!.decision}” on {ruled.length === 1 ? '1 visit' : `${ruled.length} visits`}.{' '}
          <TakeBack
            rulings={ruled}
            onTakenBack={() => {
              setRuled([]);
              noteStored();
            }}
          />
        </span>
      )}
      {failure && <ErrorNote failure={failure} />}
      <Modal.Root
        opened={ruling}
        onClose={() => setRuling(false)}
        size="lg"
        transitionProps={{ duration: 0 }}
      >
        <Modal.Overlay />
        <Modal.Content aria-label="Rule on the chosen visits">
          <Modal.Body>
            <div className="dialog-head">
              <h2>Rule on {nameChosen(chosen)}</h2>
              <CloseButton aria-label="Close" onClick={() => setRuling(false)} />
            </div>
            <ScrollRegion label="Chosen visits by name" className="chosen-names quiet">
              {chosen.map(({ poleId, date }) => `${poleId} (${date})`).join(', ')}
            </ScrollRegion>
            <RulingForm
              visits={chosen}
              onOvertaken={() => void lookAgain()}
              onSaved={(rulings) => {
                setRuled(rulings);
                setRuling(false);
                clearSelection();
                noteStored();
              }}
            />
          </Modal.Body>
        </Modal.Content>
      </Modal.Root>
    </section>
  );
}

function nameChosen(chosen: readonly SelectedVisit[]): string {
  return chosen.length === 1 ? '1 visit chosen' : `${chosen.length} visits chosen`;
}

/** Escape drops the choice, but not where it closes a dialog or leaves a field. It is asked before the dialog that it closes. */
function useEscape(drop: () => void): void {
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.key !== 'Escape' || event.target instanceof HTMLInputElement) return;
      if (!document.querySelector('[role="dialog"]')) drop();
    };
    window.addEventListener('keydown', press, { capture: true });
    return () => window.removeEventListener('keydown', press, { capture: true });
  }, [drop]);
}
