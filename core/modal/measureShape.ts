import type { ChannelShare } from './fitLocalModes.ts';
import { fuseEstimates } from './fuseEstimates.ts';
import type { GatheredMode } from './gatherModes.ts';
import type { ShapeRatio } from './strikeSegment.ts';

/** Gains of two sensors of one kind agree within this share (common practice, no source). */
const GAIN_SHARE = 0.005;

/**
 * Mode shape at each further height over that at the first, from the residues of the same strikes: a real mode
 * moves all heights in step, so the part of a residue in phase with the reference counts. A ratio's deviation
 * comes from the noise of both residues; what both share, the pole's own error, cancels.
 * @returns none where the channels of the plane lie at one height
 */
export function measureShape(mode: GatheredMode): ShapeRatio[] {
  const heights = [...new Set(mode.sightings.flatMap(({ shares }) => shares.map(({ heightM }) => heightM)))];
  const [reference, ...further] = heights;
  if (reference === undefined) return [];
  return further.flatMap((heightM) => {
    const ratios = mode.sightings.flatMap(({ shares }) => {
      const base = shares.find((share) => share.heightM === reference);
      const own = shares.find((share) => share.heightM === heightM);
      return base === undefined || own === undefined ? [] : [divideShares(own, base)];
    });
    if (ratios.length === 0) return [];
    const { value, sd } = fuseEstimates(ratios);
    return [{ heightM, referenceHeightM: reference, ratio: value, sd: Math.hypot(sd, GAIN_SHARE * value) }];
  });
}

function divideShares(own: ChannelShare, base: ChannelShare): { value: number; sd: number } {
  const power = base.re * base.re + base.im * base.im;
  const value = (own.re * base.re + own.im * base.im) / power;
  // one component of a complex error has half of its power
  return { value, sd: Math.hypot(own.sd, value * base.sd) / Math.sqrt(2 * power) };
}
