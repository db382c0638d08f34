import { contours } from 'd3-contour';
import type { StemRootPicture } from './assessment.ts';

/** A closed line around points of the plane of stem and root: modulus in Pa, and fixity. */
export type RegionRing = { probability: number; points: [modulusPa: number, fixity: number][] };

/**
 * Traces the credible regions of stem and root: for each level of the picture the rings that bound where the density is
 * above it. The grid is logarithmic in both axes, so points between its nodes are too.
 */
export function traceRegions(
  picture: Pick<StemRootPicture, 'modulusPa' | 'fixity' | 'density' | 'credibleLevels'>,
): RegionRing[] {
  const trace = contours().size([picture.modulusPa.length, picture.fixity.length]);
  const values = picture.density.flat();
  return picture.credibleLevels.flatMap(({ probability, density }) =>
    trace.contour(values, density).coordinates.flatMap((polygon) =>
      polygon.map((ring) => ({
        probability,
        // d3-contour puts the value of cell i at i + 0.5.
        points: ring.map(([column, row]): [number, number] => [
          interpolateLog(picture.modulusPa, column! - 0.5),
          interpolateLog(picture.fixity, row! - 0.5),
        ]),
      })),
    ),
  );
}

function interpolateLog(axis: readonly number[], position: number): number {
  const held = Math.min(Math.max(position, 0), axis.length - 1);
  const below = Math.min(Math.floor(held), axis.length - 2);
  const share = held - below;
  return Math.exp((1 - share) * Math.log(axis[below]!) + share * Math.log(axis[below + 1]!));
}
