import { Button, CloseButton } from '@mantine/core';
import { IconAlertOctagon, IconUsers } from '@tabler/icons-react';
import { useEffect, useState } from 'react';
import { SHELF_CHANGED } from '../core/workspace/contract.ts';
import { callHost, hearOwnEntries } from './client.ts';
import { loadAgain } from './loadAgain.ts';
import { useChanges, useWindow } from './state/index.ts';
import type { Failure } from './types.ts';

/** Soon enough to be of use, and next to nothing to answer: the end of the trail. */
const LOOK_EVERY_MS = 3000;

/**
 * What others changed in the last minute, in one line below the bar. What is shown is read anew; what is being entered stays. Where
 * another window opened another workspace, that is told instead: nothing of this window can be stored any more.
 */
export function ChangeStrip() {
  const leftBehind = useLookOut();
  const { own, recent, dismiss } = useChanges();
  const [latest, ...more] = recent.filter(({ seq }) => !own.has(seq));
  if (leftBehind) {
    return (
      <div role="alert" className="notice-strip">
        <IconAlertOctagon size={16} aria-hidden />
        <span>
          <strong>{leftBehind.message}</strong> {leftBehind.hint}
        </span>
        <span className="spring" />
        <Button size="compact-sm" variant="default" onClick={loadAgain}>
          Load again
        </Button>
      </div>
    );
  }
  return (
    <div role="status" className={latest ? 'notice-strip' : undefined}>
      {latest && (
        <>
          <IconUsers size={16} aria-hidden />
          <span>
            <strong>
              {latest.words} by {latest.who} {Math.round(latest.ageS)} s ago
            </strong>
            {more.length > 0 && `, and ${more.length} more change${more.length === 1 ? '' : 's'} of others`}.
            What is shown here is up to date.
          </span>
          <span className="spring" />
          <CloseButton size="xs" aria-label="Do not show this change any more" onClick={dismiss} />
        </>
      )}
    </div>
  );
}

/**
 * Looks at the end of the trail every few seconds, and has everything shown asked for anew where somebody else changed something.
 * @returns the refusal that ends this, once another workspace is open; null before
 */
function useLookOut(): Failure | null {
  const [leftBehind, setLeftBehind] = useState<Failure | null>(null);
  useEffect(() => {
    hearOwnEntries(useChanges.getState().noteOwn);
    let timer: ReturnType<typeof setTimeout> | undefined;
    let left = false;
    const look = async () => {
      const { last, take } = useChanges.getState();
      const answer = await callHost('care.changes', last === null ? {} : { after: last });
      if (left) return;
      if (!answer.ok && answer.code === SHELF_CHANGED) return setLeftBehind(answer);
      // where nobody answers, the next call of the window itself says so
      if (answer.ok) {
        const { own } = useChanges.getState();
        take(answer.value);
        if (answer.value.entries.some(({ seq }) => !own.has(seq))) useWindow.getState().noteStored();
      }
      timer = setTimeout(() => void look(), LOOK_EVERY_MS);
    };
    void look();
    return () => {
      left = true;
      clearTimeout(timer);
    };
  }, []);
  return leftBehind;
}
