import { Button } from '@mantine/core';
import { FAULTS } from '../../../core/workspace/contract.ts';
import { VerdictMark } from '../../parts/index.ts';
import { useClassroom } from '../classroomStore.ts';
import type { BlowDescription, FaultId } from '../classroomTypes.ts';
import { listFaults, nameFault } from '../nameFault.ts';
import { zoomOn } from './zoomOn.ts';

/** What is wrong with a blow, where it shows, and what to do next time. */
export function FaultCards(props: {
  description: BlowDescription;
  stated: readonly FaultId[] | null;
  note: string;
}) {
  const { description, stated, note } = props;
  const zoom = useClassroom((s) => s.zoom);
  const { checks, marks } = description;
  return (
    <div className="fault-cards">
      {note !== '' && <p>{note}</p>}
      {checks.length === 0 && <p>The checks find nothing wrong with this blow.</p>}
      {checks.map(({ fault, verdict, text, advice }) => {
        const own = marks.filter((mark) => mark.fault === fault);
        const view = zoomOn(own);
        return (
          <section key={fault} className="fault-card">
            <h3>
              {nameFault(fault)} <VerdictMark verdict={verdict} />
              {view && (
                <Button
                  size="compact-xs"
                  variant="default"
                  aria-label={`Show where: ${nameFault(fault)}`}
                  onClick={() => zoom(view)}
                >
                  Show where
                </Button>
              )}
            </h3>
            <p>{text}</p>
            <p className="quiet">{FAULTS.find(({ id }) => id === fault)!.look}</p>
            <p>
              <strong>Next time:</strong> {advice}
            </p>
          </section>
        );
      })}
      {stated && (
        <p>
          <strong>Stated by the maker of the lesson:</strong> {listFaults(stated)}.
        </p>
      )}
    </div>
  );
}
