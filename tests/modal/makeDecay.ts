/** One decaying cosine: amplitude exp(-zeta omega t) cos(omega sqrt(1 - zeta^2) t + phase). */
export interface DecayPart {
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  readonly amplitude: number;
  readonly phase: number;
}

/** Uniform numbers in [0, 1): mulberry32, a 32-bit mixing counter in the public domain. */
export function createUniform(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Normal numbers of standard deviation 1 (Box & Muller 1958). */
export function createNormal(seed: number): () => number {
  const uniform = createUniform(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Sum of decays in closed form, with white noise of the given standard deviation where a source is given. */
export function makeDecay(
  count: number,
  sampleRateHz: number,
  parts: readonly DecayPart[],
  noise: { readonly sd: number; readonly normal: () => number } | null = null,
): Float64Array {
  const samples = new Float64Array(count);
  for (const { frequencyHz, dampingRatio, amplitude, phase } of parts) {
    const omega = 2 * Math.PI * frequencyHz;
    const damped = omega * Math.sqrt(1 - dampingRatio ** 2);
    for (let i = 0; i < count; i++) {
      const t = i / sampleRateHz;
      samples[i]! += amplitude * Math.exp(-dampingRatio * omega * t) * Math.cos(damped * t + phase);
    }
  }
  if (noise !== null) for (let i = 0; i < count; i++) samples[i]! += noise.sd * noise.normal();
  return samples;
}
