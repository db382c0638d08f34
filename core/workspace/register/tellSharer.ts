import type { Assessment } from '../../assessment.ts';
import { RECORDINGS_OF_ANOTHER_POLE } from '../../speakAgainstKeeping.ts';
import type { Sharer } from './readSharers.ts';

/** As a finding, that a visit has recordings of another pole. It does not say whose they are: nobody knows. */
export function tellSharer({ poleId, date }: Sharer): Assessment['findings'][number] {
  return {
    id: RECORDINGS_OF_ANOTHER_POLE,
    text:
      `Recordings of this visit are byte for byte those of the visit to pole ${poleId} of ${date}. They can be of one pole only: find out of which, and ` +
      'bring in the other visit again with its own recordings. Until then neither result is to be used.',
  };
}
