import { z } from 'zod';

/** One fault as it is taught: what it is called, and where in the three pictures to look for it. */
type Fault = {
  readonly id: string;
  readonly name: string;
  readonly look: string;
  /** Why a quiz does not ask for it; null where it does. */
  readonly notAsked: string | null;
};

/** Every fault of the checks, in their order, in the words of the classroom. */
export const FAULTS = [
  {
    id: 'clipping',
    name: 'Clipping',
    look: 'Waveform: tops are flat, or stand at the end of the range. Spectrum: a raised floor.',
    notAsked: null,
  },
  {
    id: 'double-blow',
    name: 'Double blow',
    look: 'Waveform: a second sharp start soon after the first. Spectrum: even ripples over the peaks.',
    notAsked: null,
  },
  {
    id: 'noise',
    name: 'Low over noise',
    look: 'Waveform: the line before the blow is as thick as much of the ring-down. Spectrum: peaks stand low over a rough floor.',
    notAsked: null,
  },
  {
    id: 'cut-short',
    name: 'Ring-down cut short',
    look: 'Waveform: the swing is still large where it ends. Spectrum: peaks are wider than they should be.',
    notAsked: null,
  },
  {
    id: 'low-band',
    name: 'Mode 1 not excited',
    look: 'Spectrum: no clear peak between 1 and 5 Hz. Spectrogram: the lowest band stays dark from the start.',
    notAsked: null,
  },
  {
    id: 'weak-plane',
    name: 'One plane barely moved',
    look: 'Waveform: one axis moves much less than the other.',
    notAsked: null,
  },
  {
    id: 'mains-hum',
    name: 'Mains hum',
    look: 'Spectrum: thin lines at 50 or 60 Hz and their multiples. Spectrogram: lines that go on while the pole is at rest.',
    notAsked: null,
  },
  {
    id: 'rattle',
    name: 'Rattle',
    look: 'Waveform: short bursts on top of a smooth swing. Spectrogram: upright streaks above the modes.',
    notAsked: null,
  },
  {
    id: 'offset',
    name: 'Level off zero',
    look: 'Waveform: the swing is not about zero, or the level jumps at the blow and creeps back.',
    notAsked: null,
  },
  {
    id: 'corner',
    name: 'Sensor blocks low frequencies',
    look: 'Spectrum: mode 1 is low or missing though the hand pushed well. The fault lies in the sensor, not in the blow.',
    notAsked: 'it is told from the data sheet of the sensor, not from a picture',
  },
  {
    id: 'repeatability',
    name: 'Blows disagree',
    look: 'Spectrum: peaks of two blows by the same exciter lie apart or differ in height. Lay the two side by side.',
    notAsked: 'it takes two blows to see',
  },
] as const satisfies readonly Fault[];

export type FaultId = (typeof FAULTS)[number]['id'];

const IDS = FAULTS.map(({ id }) => id);

export const faultIdSchema = z.enum(IDS as [FaultId, ...FaultId[]]);

/** Faults that one unlabelled blow can show. */
export const QUIZ_FAULTS: readonly FaultId[] = FAULTS.filter(({ notAsked }) => notAsked === null).map(
  ({ id }) => id,
);
