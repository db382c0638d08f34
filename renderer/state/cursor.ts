import { create } from 'zustand';

type Cursor = {
  timeS: number | null;
  frequencyHz: number | null;
  point(at: { timeS: number | null; frequencyHz: number | null }): void;
};

/** Where the pointer is in time and frequency, shared by waveform, spectrogram and spectrum. */
export const useCursor = create<Cursor>()((set) => ({
  timeS: null,
  frequencyHz: null,
  point: (at) => set(at),
}));
