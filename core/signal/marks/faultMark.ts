import type { CheckId } from '../checks/check.ts';

/** A place in the picture of a strike where a fault shows. What is null is not bounded: every channel, all of time... */
export interface FaultMark {
  readonly fault: CheckId;
  /** Index among the channels of the recording. */
  readonly channel: number | null;
  /** From the start of the recording. Equal ends mark one moment. */
  readonly timeS: readonly [from: number, to: number] | null;
  readonly frequencyHz: readonly [from: number, to: number] | null;
  /** Acceleration at which a level is drawn, on both sides of zero where `bothSides`. */
  readonly level: { readonly mPerS2: number; readonly bothSides: boolean } | null;
  /** A few words to stand beside the mark. */
  readonly words: string;
}

/** Builds a mark from what it bounds. */
export function mark(
  fault: CheckId,
  words: string,
  bounds: Partial<Omit<FaultMark, 'fault' | 'words'>>,
): FaultMark {
  return { fault, words, channel: null, timeS: null, frequencyHz: null, level: null, ...bounds };
}
