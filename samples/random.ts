/** A stream of random numbers that is the same on every machine for the same seed. */
export interface RandomStream {
  /** Uniform in [low, high). */
  readonly between: (low: number, high: number) => number;
  /** Uniform in a range. */
  readonly within: (range: readonly [number, number]) => number;
  /** Normal with mean 0 and standard deviation 1. */
  readonly normal: () => number;
  /** Normal, drawn again until it lies within `limit` standard deviations. */
  readonly normalWithin: (limit: number) => number;
}

const TWO_TO_32 = 4294967296;

/**
 * Makes a stream from a text: mulberry32 (T. Ettinger, public domain, from memory) seeded by a 32-bit FNV-1a hash
 * of the text, so that each pole and recording has a stream of its own and the order of making does not matter.
 */
export function createRandomStream(seedText: string): RandomStream {
  let state = hashText(seedText);
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / TWO_TO_32;
  };
  const normal = (): number => {
    // Box and Muller 1958; 1 - u keeps the logarithm finite.
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    return radius * Math.cos(2 * Math.PI * uniform());
  };
  return {
    between: (low, high) => low + (high - low) * uniform(),
    within: ([low, high]) => low + (high - low) * uniform(),
    normal,
    normalWithin: (limit) => {
      let value = normal();
      while (Math.abs(value) > limit) value = normal();
      return value;
    },
  };
}

function hashText(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash;
}
