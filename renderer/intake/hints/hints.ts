import type { Place } from '../../state/index.ts';

/** A hint for somebody's first minutes in a place. */
export type Hint = {
  id: string;
  place: Place;
  words: string;
  /** Speaks of visits, so that it is not given where there are none. */
  needsVisits?: true;
};

/** In the order in which they are given, place by place. */
const HINTS: readonly Hint[] = [
  {
    id: 'register',
    place: 'register',
    needsVisits: true,
    words:
      'Visits that wait for a person come first, each with its reasons. Walk with the arrow keys, press Enter, and the visit opens on the bench.',
  },
  {
    id: 'bring-in',
    place: 'register',
    words:
      'Your own visits: drop their files or folders anywhere on this window, or press Bring in visits. No visit file yet? Write the visit down there.',
  },
  {
    id: 'picks',
    place: 'bench',
    words:
      'Numbered marks in the spectrum are modes that the program proposes. The tick in a row confirms one; drag or type to move it. Ctrl+Z takes back whatever you did.',
  },
  {
    id: 'stem-root',
    place: 'bench',
    words:
      'Stem against root: the smaller the region, the better the blows told the two apart. Findings say what is odd and what would tell more.',
  },
  {
    id: 'not-safe',
    place: 'bench',
    words:
      'The capacity is that of sound wood. Loss of section at the ground line hardly shows in frequencies: inspect, then rule, with your reason.',
  },
  {
    id: 'calibration',
    place: 'calibration',
    words: 'Until you bring in break tests of your own poles, strength comes from handbooks, and is wide.',
  },
  {
    id: 'classroom',
    place: 'classroom',
    needsVisits: true,
    words:
      'A good blow at the left, a faulty one at the right, over the same times and frequencies; tick same height to draw both on one scale. Show where zooms in on the fault; switch the sound on to hear it.',
  },
  {
    id: 'writing',
    place: 'intake',
    words:
      'Type what the crew wrote, in its own units. Nothing is lost when you leave; the visit goes into the register when you bring it in.',
  },
];

/**
 * The hint that is due in a place; null where none is left.
 * @param done - identities of hints that were read
 * @param visits - how many there are in the workspace
 */
export function findHint(place: Place, done: readonly string[], visits: number): Hint | null {
  return (
    HINTS.find(
      (hint) => hint.place === place && !done.includes(hint.id) && (visits > 0 || !hint.needsVisits),
    ) ?? null
  );
}
