import type { Assessment } from '../../assessment.ts';
import { RECORDINGS_OF_ANOTHER_POLE } from '../../speakAgainstKeeping.ts';
import type { Sharer } from './readSharers.ts';

/** As a finding, that a visit has recordings of other poles; null where it has none. It does not say whose they are: nobody knows. */
export function tellSharers(sharers: readonly Sharer[]): Assessment['findings'][number] | null {
  if (sharers.length === 0) return null;
  const visits = sharers.map(({ poleId, date }) => `pole ${poleId} of ${date}`).join(', ');
  return {
    id: RECORDINGS_OF_ANOTHER_POLE,
    text:
      `Recordings of this visit are byte for byte those of the visit to ${visits}. They can be of one pole only: find out of which, and ` +
      'bring in the other visit again with its own recordings. Until then neither result is to be used.',
  };
}
