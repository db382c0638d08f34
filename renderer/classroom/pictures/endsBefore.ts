import type { Range } from '../../state/index.ts';
import type { Spectrogram } from '../classroomTypes.ts';

/** Whether nothing of a spectrogram lies in view: a segment stands for its middle, and of a short record that comes early. */
export function endsBefore({ timesS }: Spectrogram, [from]: Range): boolean {
  return (timesS.at(-1) ?? from) <= from;
}
