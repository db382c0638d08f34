import type { StrikeSegment } from '../../core/modal/index.ts';
import { createNormal, createUniform, type DecayPart, makeDecay } from './makeDecay.ts';

const RATE_HZ = 1000;
const NOISE_SD = 0.01;

export interface ModeTruth {
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  /** First amplitude by a hammer and by a hand, m/s2. */
  readonly hammer: number;
  readonly hand: number;
}

export interface VisitPlan {
  /** Modes of each plane. */
  readonly planes: readonly (readonly ModeTruth[])[];
  readonly exciters: readonly StrikeSegment['exciter'][];
  readonly seed: number;
  /** Angle between sensor axes and planes. @default 0 */
  readonly turnDeg?: number;
  readonly durationS?: number;
  readonly cornerHz?: number | null;
  /** Added to channel c of strike s. */
  readonly disturb?: (strike: number, channel: number, t: number) => number;
}

/** Ring-downs of an invented pole: decays of two planes seen by two axes, with white noise. */
export function makeVisit(plan: VisitPlan): StrikeSegment[] {
  const { planes, exciters, seed, turnDeg = 0, durationS = 7, cornerHz = 0.2, disturb } = plan;
  const normal = createNormal(seed);
  const uniform = createUniform(seed + 1);
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  return exciters.map((exciter, strikeIndex) => {
    const strength = 0.8 + 0.4 * uniform();
    const own = planes.map((modes) =>
      makeDecay(
        durationS * RATE_HZ,
        RATE_HZ,
        modes.map(
          (mode): DecayPart => ({
            frequencyHz: mode.frequencyHz,
            dampingRatio: mode.dampingRatio,
            amplitude: strength * (exciter === 'hand' ? mode.hand : mode.hammer),
            phase: 2 * Math.PI * uniform(),
          }),
        ),
      ),
    );
    const channels = [0, 1].map((c) =>
      own[0]!.map(
        (_, i) =>
          (c === 0 ? cos * own[0]![i]! - sin * own[1]![i]! : sin * own[0]![i]! + cos * own[1]![i]!) +
          NOISE_SD * normal() +
          (disturb?.(strikeIndex, c, i / RATE_HZ) ?? 0),
      ),
    );
    return {
      recording: `${exciter}.wav`,
      strikeIndex,
      sampleRateHz: RATE_HZ,
      channels,
      azimuthsDeg: [0, 90],
      noiseRms: [NOISE_SD, NOISE_SD],
      cornerHz,
      exciter,
    };
  });
}

/** Three modes of a plane as hammer and hand light them. */
export function makePlane(scale: number): ModeTruth[] {
  return [
    { frequencyHz: 1.9 * scale, dampingRatio: 0.02, hammer: 0.0004, hand: 0.3 },
    { frequencyHz: 10.4 * scale, dampingRatio: 0.014, hammer: 2, hand: 0.6 },
    { frequencyHz: 29.7 * scale, dampingRatio: 0.012, hammer: 4, hand: 0.1 },
  ];
}
