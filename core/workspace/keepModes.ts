import type { AssessedMode, Assessment } from '../assessment.ts';

/** A mode as later visits are compared with it. */
export type KeptMode = {
  /** Its place among the planes of its own visit, from 0. */
  readonly plane: number;
  /** Clockwise from north; that of a plane, so modulo 180. */
  readonly azimuthDeg: number;
  /** 1 is the lowest bending mode. */
  readonly number: number;
  readonly frequencyHz: number;
};

/** Those that the register shows: of a higher one another number is more often as near (ours). */
const HIGHEST_COMPARED = 3;
/** A number that this much of all readings gives a peak is not disputed: a rival is told as a finding from the rest on (ours). */
const UNDISPUTED_FROM = 0.95;

/**
 * The modes 1 to 3 of a result that other visits may be compared with, each in its plane. Where the chain withholds the result, those
 * whose number was confirmed or is not disputed; of another nobody knows which mode it is.
 */
export function keepModes(
  result: Pick<Assessment, 'modes' | 'assignments'>,
  withheldBy: 'chain' | 'calibration' | null,
): KeptMode[] {
  return result.modes
    .filter(({ number }) => number <= HIGHEST_COMPARED)
    .filter((mode) => withheldBy !== 'chain' || mode.status === 'confirmed' || isUndisputed(mode, result))
    .map(({ plane, azimuthDeg, number, frequencyHz }) => ({
      plane,
      azimuthDeg,
      number,
      frequencyHz: frequencyHz.value,
    }));
}

/** Only the first few readings are stored, so what gives the number is summed, not what speaks against it. */
function isUndisputed(mode: AssessedMode, { assignments }: Pick<Assessment, 'assignments'>): boolean {
  const agreeing = assignments.filter(({ numbers }) =>
    numbers.some(
      (peak) =>
        peak.plane === mode.plane &&
        peak.frequencyHz === mode.frequencyHz.value &&
        peak.number === mode.number,
    ),
  );
  return agreeing.reduce((sum, { probability }) => sum + probability, 0) >= UNDISPUTED_FROM;
}
