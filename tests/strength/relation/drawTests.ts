import type { BreakTestRow } from '../../../core/strength/index.ts';
import { parkMiller } from '../../../core/strength/price/parkMiller.ts';
import { makeRow } from './makeRow.ts';

/** Standard normal draws by Box and Muller, the same for the same seed. */
export function normalDraws(seed: number): () => number {
  const draw = parkMiller(seed);
  const unit = () => draw() / 2 ** 31;
  return () => Math.sqrt(-2 * Math.log(unit())) * Math.cos(2 * Math.PI * unit());
}

export type Truth = {
  readonly slope?: number;
  readonly poleSd?: number;
  readonly scatterSd?: number;
  readonly errorSd?: number;
};

const MEDIAN_MODULUS_PA = 11e9;
const MEDIAN_STRENGTH_PA = 45e6;

/** Invented break tests from a log-linear truth: ln strength = ln 45 MPa + slope (ln E - ln 11 GPa) + scatter, E measured with error. */
export function drawTests(
  count: number,
  draw: () => number,
  { slope = 0.6, poleSd = 0.2, scatterSd = 0.15, errorSd = 0.05 }: Truth = {},
): BreakTestRow[] {
  return Array.from({ length: count }, (_, i) => {
    const x = poleSd * draw();
    const strengthPa = MEDIAN_STRENGTH_PA * Math.exp(slope * x + scatterSd * draw());
    return makeRow(`T${i}`, {
      strengthPa,
      modulusPa: MEDIAN_MODULUS_PA * Math.exp(x + errorSd * draw()),
      modulusLogSd: errorSd,
    });
  });
}
