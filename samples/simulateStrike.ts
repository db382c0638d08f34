import type { PoleState } from './place.ts';
import { SENSOR_HEIGHT_M } from './place.ts';
import type { PlannedStrike } from './planStrikes.ts';
import type { RandomStream } from './random.ts';
import { addModalResponse, type PlaneModes, solvePlane } from './simulator/index.ts';

/** Modes of both planes with a damping ratio each. */
export interface StruckPole {
  readonly planes: readonly [PlaneModes, PlaneModes];
  readonly dampingRatios: readonly [readonly number[], readonly number[]];
}

/** Modes above are left out: the recorder's anti-alias filter takes them. */
const HIGHEST_MODE_HZ = 400;
const HIGHEST_SHARE_OF_RATE = 0.4;
/** Damping of standing wooden poles: the soil takes most from mode 1 (assumption, per mode). */
const DAMPING = [
  [0.015, 0.032],
  [0.01, 0.022],
  [0.009, 0.018],
] as const;
const DAMPING_ABOVE = [0.01, 0.02] as const;
/** Planes of one pole are damped alike, within this share. */
const DAMPING_BETWEEN_PLANES = 0.08;

/** A ladder left against the pole: what makes two strikes of one recording disagree. */
const LADDER = { heightM: 4, stiffnessNPerM: 5000, massKg: 15 } as const;

/** Solves both planes and draws the damping. */
export function prepareStruckPole(state: PoleState, random: RandomStream): StruckPole {
  const planes = [
    solvePlane(state.planes[0], HIGHEST_MODE_HZ),
    solvePlane(state.planes[1], HIGHEST_MODE_HZ),
  ] as const;
  const shared = Array.from({ length: Math.max(...planes.map((p) => p.frequenciesHz.length)) }, (_, i) =>
    random.within(DAMPING[i] ?? DAMPING_ABOVE),
  );
  const dampingOf = (plane: PlaneModes): number[] =>
    plane.frequenciesHz.map((_, i) => shared[i]! * (1 + DAMPING_BETWEEN_PLANES * random.between(-1, 1)));
  return { planes, dampingRatios: [dampingOf(planes[0]), dampingOf(planes[1])] };
}

/** The same pole with a ladder leaning on it. */
export function leanLadder(state: PoleState, struck: StruckPole): StruckPole {
  const lean = (plane: 0 | 1): PlaneModes => {
    const model = state.planes[plane];
    return solvePlane(
      { ...model, springs: [...model.springs, LADDER], masses: [...model.masses, LADDER] },
      HIGHEST_MODE_HZ,
    );
  };
  return { ...struck, planes: [lean(0), lean(1)] };
}

/**
 * Computes the acceleration that each strike alone gives at the sensor.
 * @param sensorTurnDeg - angle of the first sensor axis against the line; the second is 90 degrees on
 * @returns for each strike one array for each sensor axis, in m/s2, from the start of the recording to its end
 */
export function simulateStrike(
  struck: StruckPole,
  strike: PlannedStrike,
  sensorTurnDeg: number,
  sampleRateHz: number,
  samples: number,
): readonly [Float64Array, Float64Array] {
  const planes = [0, 1].map((plane) => {
    const acceleration = new Float64Array(samples);
    const modes = struck.planes[plane]!;
    const aim = Math.cos(toRadians(strike.offLineDeg - 90 * plane));
    for (const [index, frequencyHz] of modes.frequenciesHz.entries()) {
      if (frequencyHz > HIGHEST_SHARE_OF_RATE * sampleRateHz) break;
      const gainPerKg = aim * modes.shapeAt(index, strike.heightM) * modes.shapeAt(index, SENSOR_HEIGHT_M);
      // A ladder's mass can bring one more mode under the highest frequency.
      const dampingRatio = struck.dampingRatios[plane]![index] ?? DAMPING_ABOVE[1];
      for (const pulse of strike.pulses) {
        addModalResponse(acceleration, sampleRateHz, { frequencyHz, dampingRatio, gainPerKg }, pulse);
      }
    }
    return acceleration;
  });
  const [along, across] = [planes[0]!, planes[1]!];
  const cosine = Math.cos(toRadians(sensorTurnDeg));
  const sine = Math.sin(toRadians(sensorTurnDeg));
  return [
    along.map((value, i) => cosine * value + sine * across[i]!),
    along.map((value, i) => cosine * across[i]! - sine * value),
  ];
}

function toRadians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
