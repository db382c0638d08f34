import type { ReportWaveform } from '../reportInput.ts';

/** Where a fault shows; times from the onset. As in the classroom. */
export type HandoutMark = {
  readonly channel: number | null;
  readonly timeS: readonly [number, number] | null;
  readonly frequencyHz: readonly [number, number] | null;
  readonly words: string;
};

export type HandoutPictures = {
  /** The first moments, and the whole ring-down. */
  readonly start: ReportWaveform;
  readonly whole: ReportWaveform;
  readonly spectrum: {
    readonly frequenciesHz: ArrayLike<number>;
    readonly channels: readonly { readonly azimuthDeg: number; readonly values: ArrayLike<number> }[];
  };
  readonly marks: readonly HandoutMark[];
};

export type HandoutBlow = {
  /** Place in this form, from 1. */
  readonly number: number;
  /** Place in the form with questions, from 1; null where it is not asked for. */
  readonly question: number | null;
  readonly title: string;
  readonly note: string;
  readonly exciter: string;
  readonly source: string;
  readonly verdict: string;
  readonly faults: readonly { readonly name: string; readonly text: string; readonly advice: string }[];
  /** What the maker states to be wrong; null: nothing is stated. */
  readonly stated: readonly string[] | null;
  /** null where the recording is not in the workspace. */
  readonly pictures: HandoutPictures | null;
};

/** Everything that a handout shows. The same input gives the same text. */
export type HandoutInput = {
  readonly program: string;
  readonly title: string;
  readonly maker: string;
  readonly notes: string;
  /** explained: with faults, marks and advice; questions: pictures alone, and boxes to tick. */
  readonly form: 'explained' | 'questions';
  readonly blows: readonly HandoutBlow[];
  /** Every fault, with where to look for it. */
  readonly faults: readonly { readonly name: string; readonly look: string; readonly asked: boolean }[];
  readonly cautions: readonly string[];
};
