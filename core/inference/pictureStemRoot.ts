import type { StemRootPicture } from '../assessment.ts';
import type { StemRootPosterior } from './fitStemAndRoot.ts';
import type { StemRootSummary } from './summarisePosterior.ts';

const CREDIBLE_PROBABILITIES = [0.5, 0.9];
/** Points of the picture along each axis; the grid is thinned to about this many. */
const PICTURE_POINTS = 51;
const SIGNIFICANT_DIGITS = 6;

/** The posterior as the stem-against-root picture shows it: density over E and fixity, contours that hold 50 and 90 %. */
export function pictureStemRoot(
  posterior: StemRootPosterior,
  summary: StemRootSummary,
  requiredModulusPa: number | null,
): StemRootPicture {
  const { lnModulus, lnFixity, weights } = posterior;
  const ne = lnModulus.length;
  const stepE = Math.max(1, Math.floor((ne - 1) / (PICTURE_POINTS - 1)));
  const stepX = Math.max(1, Math.floor((lnFixity.length - 1) / (PICTURE_POINTS - 1)));
  const columns = indices(ne, stepE);
  const rows = indices(lnFixity.length, stepX);
  // weights are per equal steps of ln root / E; density in ln fixity follows by the local step of ln fixity
  const perFixity = (i: number): number => {
    const before = Math.max(i - 1, 0);
    const after = Math.min(i + 1, lnFixity.length - 1);
    return (after - before) / Math.max(lnFixity[after]! - lnFixity[before]!, 1e-9);
  };
  const raw = rows.map((i) => columns.map((j) => weights[i * ne + j]! * perFixity(i)));
  const peak = Math.max(...raw.flat());
  const density = raw.map((row) => row.map((value) => roundTo(value / peak)));
  return {
    modulusPa: columns.map((j) => roundTo(Math.exp(lnModulus[j]!))),
    fixity: rows.map((i) => roundTo(Math.exp(lnFixity[i]!))),
    density,
    credibleLevels: CREDIBLE_PROBABILITIES.map((probability) => ({
      probability,
      density: credibleDensity(rows, raw, perFixity, probability) / peak,
    })),
    requiredModulusPa,
    classRange: {
      modulusPa: [summary.priorModulusPa.low, summary.priorModulusPa.high],
      fixity: [summary.expectedFixity.low, summary.expectedFixity.high],
    },
  };
}

function indices(count: number, step: number): number[] {
  return Array.from({ length: Math.floor((count - 1) / step) + 1 }, (_, i) => i * step);
}

/** Density above which cells hold a probability: cells are taken from the densest down. */
function credibleDensity(
  rows: readonly number[],
  raw: readonly (readonly number[])[],
  perFixity: (i: number) => number,
  probability: number,
): number {
  const cells = raw.flatMap((row, r) =>
    row.map((density) => ({ density, mass: density / perFixity(rows[r]!) })),
  );
  cells.sort((a, b) => b.density - a.density);
  const total = cells.reduce((sum, cell) => sum + cell.mass, 0);
  let held = 0;
  for (const cell of cells) {
    held += cell.mass;
    if (held >= probability * total) return cell.density;
  }
  return 0;
}

function roundTo(value: number): number {
  return Number(value.toPrecision(SIGNIFICANT_DIGITS));
}
