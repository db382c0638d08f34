import { useState } from 'react';
import { RulingForm, RulingList } from '../ruling/index.ts';
import { useWindow } from '../state/index.ts';
import type { Bench } from '../types.ts';

/** What was decided about this visit, and the next ruling. What was ruled since the visit was opened can be taken back. */
export function RulingNotes({ bench, isShown }: { bench: Bench; isShown: boolean }) {
  const { visitId, assessmentId, rulings } = bench;
  const standing = rulings.find(({ withdrawn }) => withdrawn === null);
  const noteStored = useWindow((s) => s.noteStored);
  const [fresh, setFresh] = useState<ReadonlySet<number>>(new Set());
  return (
    <>
      <RulingForm
        visits={[{ visitId, assessmentId, standingRulingId: standing?.rulingId ?? null }]}
        onOvertaken={noteStored}
        onSaved={(saved) => {
          setFresh(new Set([...fresh, ...saved.map(({ rulingId }) => rulingId)]));
          noteStored();
        }}
      />
      <RulingList
        rulings={rulings}
        assessmentId={assessmentId}
        isShown={isShown}
        fresh={fresh}
        onChanged={noteStored}
      />
    </>
  );
}
