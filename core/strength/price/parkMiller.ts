const MODULUS = 2 ** 31 - 1;
const MULTIPLIER = 16_807;

/**
 * Makes a stream of evenly spread whole numbers 1 to 2^31 - 2, the same for the same seed.
 * Source: Park and Miller 1988, Random number generators: good ones are hard to find, CACM 31(10) 1192-1201, the minimal
 * standard; its check value is in the tests. Period 2^31 - 2, far more than a bootstrap draws.
 * @param seed - whole, 1 to 2^31 - 2
 */
export function parkMiller(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * MULTIPLIER) % MODULUS;
    return state;
  };
}

/** Makes a stream of whole numbers from 0 to below `count`, each as likely. */
export function drawBelow(seed: number, count: number): () => number {
  const draw = parkMiller(seed);
  return () => Math.floor(((draw() - 1) / (MODULUS - 1)) * count);
}
