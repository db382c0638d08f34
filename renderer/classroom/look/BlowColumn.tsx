import { ScrollRegion, VerdictMark } from '../../parts/index.ts';
import type { Range } from '../../state/index.ts';
import { type Side, useClassroom } from '../classroomStore.ts';
import type { BlowDescription, BlowPlace, LessonBlow } from '../classroomTypes.ts';
import { BlowPictures, type Heights } from '../pictures/BlowPictures.tsx';
import type { Pictures } from '../pictures/usePictures.ts';
import { PlayButton } from '../sound/PlayButton.tsx';
import { FaultCards } from './FaultCards.tsx';

type BlowColumnProps = {
  side: Side;
  place: BlowPlace | null;
  pictures: Pictures;
  description: BlowDescription | null;
  /** Of the lesson that the blow was taken from; null where it was taken from the workspace. */
  entry: LessonBlow | null;
  timeRangeS: Range;
  heights: Heights;
};

/** One of the two blows that are compared: pictures above, words below. */
export function BlowColumn(props: BlowColumnProps) {
  const { side, place, pictures, description, entry, timeRangeS, heights } = props;
  const { view, marks, look } = useClassroom();
  const name = `the blow at the ${side}`;
  if (place === null) {
    return (
      <section className="blow-column" aria-label={name}>
        <p className="nothing">
          No blow is laid here. Press {side === 'left' ? 'Left' : 'Right'} beside a blow in the list.
        </p>
      </section>
    );
  }
  const blow = description?.blow;
  return (
    <section className="blow-column" aria-label={name}>
      <header className="blow-head">
        <h2>{entry?.title || (blow ? `${blow.poleId}, ${blow.exciter}` : '')}</h2>
        {blow && (
          <>
            <span className="quiet">
              {blow.poleId}, {blow.visitDate}, {blow.exciter} at {blow.startS.toFixed(1)} s
            </span>
            <VerdictMark verdict={blow.verdict} />
          </>
        )}
        <span className="spring" />
        <PlayButton of={place} name={name} />
      </header>
      <div className="blow-pictures">
        <BlowPictures
          name={name}
          side={side}
          pictures={pictures}
          view={view}
          timeRangeS={timeRangeS}
          heights={heights}
          marks={marks ? (description?.marks ?? []) : []}
          onLook={look}
        />
      </div>
      <ScrollRegion className="blow-words" label={`What is said of ${name}`}>
        {description && (
          <FaultCards
            description={description}
            stated={entry?.statedFaults ?? null}
            note={entry?.note ?? ''}
          />
        )}
      </ScrollRegion>
    </section>
  );
}
