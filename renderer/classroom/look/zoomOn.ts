import { FAULTS } from '../../../core/workspace/contract.ts';
import type { Range } from '../../state/index.ts';
import { PICTURES, type PictureView } from '../classroomStore.ts';
import type { FaultMark } from '../classroomTypes.ts';

/** Shown around a moment, so that what comes before and after it is seen too. */
const AROUND_S = 0.12;
/** A flat top lasts some milliseconds. */
const AROUND_CLIPPING_S = 0.015;
const AROUND_HZ = 10;
/** Taps are told from modes well below this. */
const HIGHEST_HZ = 500;

/**
 * The view in which the first place of a fault, or the lines of it, are seen well, in the pictures that show it, which have all the
 * height then; null where it has no place. A flat top is to be seen in the waveform alone.
 */
export function zoomOn(marks: readonly FaultMark[]): Partial<PictureView> | null {
  const moment = marks.find(({ timeS }) => timeS);
  const frequencies = marks.flatMap(({ timeS, frequencyHz }) =>
    frequencyHz && !timeS ? [...frequencyHz] : [],
  );
  if (moment?.timeS) {
    const [start, to] = moment.timeS;
    const isClipping = moment.fault === 'clipping';
    // how large the swing still is at its end is told beside its beginning
    const from = moment.fault === 'cut-short' ? 0 : start;
    const around = Math.max(isClipping ? AROUND_CLIPPING_S : AROUND_S, to - start);
    return {
      timeRangeS: [from - around, to + around],
      sharpIn: 'time',
      pictures: isClipping ? ['waveform'] : picturesOf(moment.fault),
      ...(moment.frequencyHz && { frequencyRangeHz: [0, Math.min(moment.frequencyHz[1], HIGHEST_HZ)] }),
    };
  }
  if (frequencies.length === 0) return null;
  const range: Range = [
    Math.max(0, Math.min(...frequencies) - AROUND_HZ),
    Math.max(...frequencies) + AROUND_HZ,
  ];
  return { timeRangeS: null, frequencyRangeHz: range, pictures: picturesOf(marks[0]!.fault) };
}

/** Those that the words on where to look begin their sentences with. */
function picturesOf(fault: FaultMark['fault']): PictureView['pictures'] {
  const { look } = FAULTS.find(({ id }) => id === fault)!;
  return PICTURES.filter((picture) => look.toLowerCase().includes(`${picture}:`));
}
