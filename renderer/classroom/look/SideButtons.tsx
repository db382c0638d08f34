import { type Side, useClassroom } from '../classroomStore.ts';
import type { Blow, BlowPlace } from '../classroomTypes.ts';

const SIDES: readonly { side: Side; words: string }[] = [
  { side: 'left', words: 'Left' },
  { side: 'right', words: 'Right' },
];

export function placeOf({ visitId, recording, startS }: Blow): BlowPlace {
  return { visitId, recording, startS };
}

/** Lays a blow at the left or the right. @param name - of the blow, for screen readers */
export function SideButtons({ blow, name }: { blow: Blow; name: string }) {
  const { sides, lay } = useClassroom();
  return SIDES.map(({ side, words }) => {
    const place = sides[side];
    const isHere =
      place !== null &&
      place.visitId === blow.visitId &&
      place.recording === blow.recording &&
      place.startS === blow.startS;
    return (
      <button
        key={side}
        type="button"
        className="side-button"
        aria-pressed={isHere}
        aria-label={`${words}: ${name}`}
        onClick={() => lay(side, placeOf(blow))}
      >
        {words}
      </button>
    );
  });
}
