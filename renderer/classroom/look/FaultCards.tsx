import { Button } from '@mantine/core';
import { FAULTS } from '../../../core/workspace/contract.ts';
import { VerdictMark } from '../../parts/index.ts';
import type { Range } from '../../state/index.ts';
import { type PictureView, useClassroom } from '../classroomStore.ts';
import type { BlowDescription, FaultId, FaultMark } from '../classroomTypes.ts';
import { listFaults, nameFault } from '../nameFault.ts';

/** Shown around a moment, so that what comes before and after it is seen too. */
const AROUND_S = 0.12;
const AROUND_HZ = 10;
/** Taps are told from modes well below this. */
const HIGHEST_HZ = 500;

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

/** The ranges in which the first place of a fault, or the lines of it, are seen well; null where it has no place. */
function zoomOn(marks: readonly FaultMark[]): Partial<PictureView> | null {
  const moment = marks.find(({ timeS }) => timeS);
  const inTime = moment?.timeS;
  const frequencies = marks.flatMap(({ timeS, frequencyHz }) =>
    frequencyHz && !timeS ? [...frequencyHz] : [],
  );
  if (inTime) {
    const around = Math.max(AROUND_S, inTime[1] - inTime[0]);
    return {
      timeRangeS: [inTime[0] - around, inTime[1] + around],
      ...(moment?.frequencyHz && { frequencyRangeHz: [0, Math.min(moment.frequencyHz[1], HIGHEST_HZ)] }),
    };
  }
  if (frequencies.length === 0) return null;
  const range: Range = [
    Math.max(0, Math.min(...frequencies) - AROUND_HZ),
    Math.max(...frequencies) + AROUND_HZ,
  ];
  return { timeRangeS: null, frequencyRangeHz: range };
}
