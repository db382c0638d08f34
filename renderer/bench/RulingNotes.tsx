import { isGroundLineInspected } from '../../core/workspace/contract.ts';
import { RulingForm, RulingList } from '../ruling/index.ts';
import { useTyped, useWindow } from '../state/index.ts';
import type { Bench } from '../types.ts';

const NONE: ReadonlySet<number> = new Set();

/** Under which the rulings of this stay at a visit are kept, until it is left. */
export const nameFresh = (visitId: number) => `rulings of now ${visitId}`;

/** What was decided about this visit, and the next ruling. What was ruled since the visit was opened can be taken back. */
export function RulingNotes({ bench, isShown }: { bench: Bench; isShown: boolean }) {
  const { visitId, visit, assessmentId, rulings } = bench;
  const standing = rulings.find(({ withdrawn }) => withdrawn === null);
  const noteStored = useWindow((s) => s.noteStored);
  const [fresh, setFresh] = useTyped(nameFresh(visitId), 'ids', NONE);
  return (
    <>
      <RulingForm
        visits={[
          {
            visitId,
            poleId: visit.pole.id,
            isGroundLineInspected: isGroundLineInspected(visit),
            assessmentId,
            standingRulingId: standing?.rulingId ?? null,
          },
        ]}
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
