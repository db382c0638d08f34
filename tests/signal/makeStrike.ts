/**
 * Strikes for the tests of this room, made by another road than the samples: each mode is driven by the force
 * sample by sample, with the exact step of a damped oscillator between force samples (first-order hold left
 * out: force is held).
 */

/** One mode as seen by the sensor: acceleration per unit of force. */
export interface TestMode {
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  readonly gain: number;
}

export interface TestBlow {
  readonly startS: number;
  readonly contactS: number;
  readonly force: number;
}

/** Modes of a middling pole: 2.1, 10.3 and 27 Hz (common practice, no source). */
export const POLE_MODES: readonly TestMode[] = [
  { frequencyHz: 2.1, dampingRatio: 0.03, gain: 0.004 },
  { frequencyHz: 10.3, dampingRatio: 0.02, gain: 0.01 },
  { frequencyHz: 27, dampingRatio: 0.015, gain: 0.008 },
];

/**
 * Normal deviates of unit variance from a seeded generator (Marsaglia 2003 xorshift, Box and Muller 1958).
 */
export function createNoise(count: number, seed: number): Float64Array {
  let state = (seed * 2654435761) >>> 0 || 1;
  const next = () => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return (state + 0.5) / 2 ** 32;
  };
  return Float64Array.from(
    { length: count },
    () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next()),
  );
}

/** Acceleration of the modes under half-sine blows. */
export function ringPole(
  modes: readonly TestMode[],
  blows: readonly TestBlow[],
  sampleRateHz: number,
  durationS: number,
): Float64Array {
  const count = Math.round(durationS * sampleRateHz);
  const force = new Float64Array(count);
  for (const blow of blows) {
    for (
      let i = Math.ceil(blow.startS * sampleRateHz);
      i < (blow.startS + blow.contactS) * sampleRateHz;
      i++
    ) {
      if (i < count)
        force[i] =
          force[i]! + blow.force * Math.sin((Math.PI * (i / sampleRateHz - blow.startS)) / blow.contactS);
    }
  }
  const out = new Float64Array(count);
  const dt = 1 / sampleRateHz;
  for (const { frequencyHz, dampingRatio, gain } of modes) {
    const omega = 2 * Math.PI * frequencyHz;
    const decay = Math.exp(-dampingRatio * omega * dt);
    const damped = omega * Math.sqrt(1 - dampingRatio ** 2);
    const cos = Math.cos(damped * dt);
    const sin = Math.sin(damped * dt);
    let position = 0;
    let velocity = 0;
    for (let i = 0; i < count; i++) {
      const f = gain * force[i]!;
      out[i] = out[i]! + f - 2 * dampingRatio * omega * velocity - omega ** 2 * position;
      // Exact free step about the equilibrium that the held force gives.
      const rest = f / omega ** 2;
      const x = position - rest;
      const side = (velocity + dampingRatio * omega * x) / damped;
      const nextX = decay * (x * cos + side * sin);
      velocity =
        decay * (velocity * cos - ((omega ** 2 * x + dampingRatio * omega * velocity) / damped) * sin);
      position = nextX + rest;
    }
  }
  return out;
}
