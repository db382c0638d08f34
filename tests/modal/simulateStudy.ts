import type { StrikeSegment } from '../../core/modal/index.ts';
import { createNormal, createUniform, type DecayPart, makeDecay } from './makeDecay.ts';

/** One true mode of a simulated strike. */
export interface TrueMode {
  readonly plane: number;
  readonly number: number;
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  /** First amplitude along its own plane, m/s2. */
  readonly amplitude: number;
  /** First amplitude over the root mean square of the noise, dB. */
  readonly snrDb: number;
}

export interface SimulatedStrike {
  readonly segment: StrikeSegment;
  readonly modes: readonly TrueMode[];
  readonly durationS: number;
  /** Turn of the planes against the sensor's axes, degrees. */
  readonly turnDeg: number;
  /** Distance of the planes' frequencies as a share. */
  readonly planesApart: number;
}

const STUDY_RATE_HZ = 1000;
/** Modes 1 to 3 as they lie on poles of 8 to 15 m (common practice, no source). */
const FREQUENCIES_HZ = [
  [1.4, 3.5],
  [7, 15],
  [20, 42],
] as const;
const DAMPING = [0.005, 0.05] as const;
/** Dampings of the two planes of one mode differ by up to this share. */
const DAMPING_APART = 0.15;
const PLANES_APART = [0.003, 0.05] as const;
const DURATION_S = [3, 30] as const;
const SNR_DB = [10, 60] as const;
/** The strongest mode carries the strike's ratio; the others up to this much less. */
const WEAKER_DB = 20;
/** The blow falls at 45 degrees to the planes, within this. */
const AIM_DEG = 8;
const TURN_DEG = 10;

/**
 * Simulates one strike on an invented pole: decays of three modes in each of two perpendicular planes, seen by
 * two perpendicular axes that are strapped on off the planes, in white noise. Ratios of signal to noise are
 * those of a mode's first amplitude along its plane to the noise's root mean square at 1 kHz.
 */
export function simulateStudyStrike(seed: number, turnDeg?: number): SimulatedStrike {
  const uniform = createUniform(seed * 7919 + 13);
  const normal = createNormal(seed * 104729 + 71);
  const within = ([low, high]: readonly [number, number]) => low + (high - low) * uniform();
  const withinLog = ([low, high]: readonly [number, number]) => low * (high / low) ** uniform();
  const durationS = withinLog(DURATION_S);
  const snrDb = within(SNR_DB);
  const turn = turnDeg ?? within([-TURN_DEG, TURN_DEG]);
  const planesApart = withinLog(PLANES_APART);
  const stiffer = uniform() < 0.5 ? 0 : 1;
  const aim = ((45 + within([-AIM_DEG, AIM_DEG])) * Math.PI) / 180;
  const aims = [Math.cos(aim), Math.sin(aim)];
  const strongest = Math.floor(3 * uniform());
  const noiseRms = 0.01;
  const modes = FREQUENCIES_HZ.flatMap((range, i) => {
    const frequencyHz = withinLog(range);
    const dampingRatio = withinLog(DAMPING);
    const weakerDb = i === strongest ? 0 : within([0, WEAKER_DB]);
    return [0, 1].map((plane): TrueMode => {
      const modeSnrDb = snrDb - weakerDb + 20 * Math.log10(aims[plane]! / Math.SQRT1_2);
      const apart = 1 + DAMPING_APART * (2 * uniform() - 1);
      return {
        plane,
        number: i + 1,
        frequencyHz: frequencyHz * (plane === stiffer ? 1 + planesApart : 1),
        dampingRatio: Math.min(Math.max(dampingRatio * apart, DAMPING[0]), DAMPING[1]),
        amplitude: noiseRms * 10 ** (modeSnrDb / 20),
        snrDb: modeSnrDb,
      };
    });
  });
  const count = Math.round(durationS * STUDY_RATE_HZ);
  const phases = FREQUENCIES_HZ.map(() => 2 * Math.PI * uniform());
  const own = [0, 1].map((plane) =>
    makeDecay(
      count,
      STUDY_RATE_HZ,
      modes
        .filter((mode) => mode.plane === plane)
        .map((mode): DecayPart => ({ ...mode, phase: phases[mode.number - 1]! })),
    ),
  );
  const cos = Math.cos((turn * Math.PI) / 180);
  const sin = Math.sin((turn * Math.PI) / 180);
  const channels = [0, 1].map((c) =>
    Float64Array.from(
      own[0]!,
      (along, i) =>
        (c === 0 ? cos * along - sin * own[1]![i]! : sin * along + cos * own[1]![i]!) + noiseRms * normal(),
    ),
  );
  return {
    segment: {
      recording: 'simulated',
      strikeIndex: seed,
      sampleRateHz: STUDY_RATE_HZ,
      channels,
      azimuthsDeg: [0, 90],
      noiseRms: [noiseRms, noiseRms],
      cornerHz: null,
      exciter: 'unknown',
    },
    modes,
    durationS,
    turnDeg: turn,
    planesApart,
  };
}

/**
 * Cramer-Rao bounds of one decay A exp(-zeta omega t) cos(omega_d t + phase) in white noise of standard
 * deviation 1, with all four parameters unknown: Fisher's information summed over the samples (Kay,
 * Fundamentals of Statistical Signal Processing I, 1993, section 3.7, from memory), averaged over phase.
 * @returns standard deviations of frequency, as a share, and of damping, as a share
 */
export function boundDecay(mode: TrueMode, durationS: number): { frequency: number; damping: number } {
  // complex envelope: one real sample of mean phase carries half of a complex one
  const omega = 2 * Math.PI * mode.frequencyHz;
  const alpha = mode.dampingRatio * omega;
  const amplitude = 10 ** (mode.snrDb / 20);
  let zero = 0;
  let first = 0;
  let second = 0;
  const count = Math.min(durationS, 12 / alpha) * STUDY_RATE_HZ;
  for (let i = 0; i < count; i++) {
    const t = i / STUDY_RATE_HZ;
    const power = Math.exp(-2 * alpha * t);
    zero += power;
    first += power * t;
    second += power * t * t;
  }
  const information = ((amplitude * amplitude) / 2) * (second - (first * first) / zero);
  const sd = 1 / Math.sqrt(information) / omega;
  // omega_0 = hypot(alpha, omega_d) moves by omega_d / omega_0, zeta by 1 / omega_0, both near 1 at small damping
  return { frequency: sd, damping: sd / mode.dampingRatio };
}
