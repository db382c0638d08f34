import type { CheckId } from './check.ts';

/** One limit: beyond `care` a strike is used with care, beyond `repeat` it is not used. */
export interface CheckLimit {
  readonly care: number;
  /** Null: this fault alone never makes a strike useless for modes. */
  readonly repeat: number | null;
  readonly unit: string;
  readonly source: string;
}

/**
 * The limits of all checks in one place. No published limits for struck poles are known, so most are ours:
 * set by reasoning, then tried on simulated strikes with known faults.
 */
export const CHECK_LIMITS: Readonly<Record<CheckId, CheckLimit>> = {
  clipping: {
    care: 0.98,
    repeat: 0.98,
    unit: 'of full scale',
    source: 'common practice, no source: 2 % of headroom for converters that stop short of their last code',
  },
  'double-blow': {
    care: 0.2,
    repeat: 0.4,
    unit: 'of the first impact',
    source:
      'ours: a second impact ripples the spectrum by its share; of simulated single blows one in some 300 reaches it',
  },
  noise: {
    care: 40,
    repeat: 25,
    unit: 'dB',
    source:
      'ours: the second strongest mode lies some 20 dB below the strongest and wants 20 dB over noise itself, where a frequency scatters by a tenth of its half-power width',
  },
  'cut-short': {
    care: 1,
    repeat: null,
    unit: 'time constants',
    source:
      'ours, for decays read from the time signal, where one time constant fixes the rate; spectra want 6 (Trethewey and Cafeo 1992, Int. J. Anal. Exp. Modal Anal. 7(2):129-149)',
  },
  'low-band': {
    care: 15,
    repeat: null,
    unit: 'dB',
    source: 'ours: the highest of the noise bins in the band reaches 6 to 8 dB by chance',
  },
  'weak-plane': {
    care: 0.25,
    repeat: null,
    unit: 'of the stronger plane',
    source: 'ours: a blow 14 degrees off one axis, where 45 are asked for',
  },
  'mains-hum': {
    care: 0.01,
    repeat: 0.3,
    unit: 'of the peak',
    source: 'ours: a hundredth of the peak outlasts mode 3 within its second time constant of record',
  },
  rattle: {
    care: 0.02,
    repeat: 1,
    unit: 'of the ring-down',
    source: 'ours, from simulated strikes: sound poles stay below 0.007, and with other faults below 0.014',
  },
  offset: {
    care: 0.03,
    repeat: 0.5,
    unit: 'of the peak',
    source: 'ours: a shift of a thirtieth of the peak is of the size of mode 1 in a hammer blow',
  },
  corner: {
    care: 1.2,
    repeat: null,
    unit: 'Hz',
    source: 'ours: the lowest frequency at which mode 1 of a standing pole is expected',
  },
  repeatability: {
    care: 0.85,
    repeat: null,
    unit: 'likeness of spectra',
    source:
      'ours, from simulated strikes: like strikes stay above 0.92; frequencies 2 % apart give 0.74 to 0.94',
  },
};
