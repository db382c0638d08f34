/*
 * Bench: one visit under work. Recordings and spectrum on one side, what follows from them on the other; a
 * decision on a pick changes all of it at once.
 */
export { BenchPlace } from './BenchPlace.tsx';
