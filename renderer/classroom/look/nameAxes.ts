import { nameAzimuth } from '../../words/index.ts';

/**
 * Names of the axes that blows can be seen and heard along, one for each place among the channels: two blows are turned to the
 * same place at once, and their sensors may have stood otherwise.
 * @param blows - azimuths of the channels of one blow, or of the one at the left and the one at the right; a blow that is not
 *   laid has none
 */
export function nameAxes(blows: readonly (readonly number[])[]): string[] {
  const laid = blows.flatMap((azimuthsDeg, side) => (azimuthsDeg.length > 0 ? [{ azimuthsDeg, side }] : []));
  return Array.from(
    { length: Math.max(0, ...laid.map(({ azimuthsDeg }) => azimuthsDeg.length)) },
    (_, channel) => {
      const names = laid.map(({ azimuthsDeg }) =>
        nameAzimuth(azimuthsDeg[Math.min(channel, azimuthsDeg.length - 1)]!),
      );
      if (new Set(names).size === 1) return `axis ${names[0]}`;
      return `axis ${laid.map(({ side }, i) => `${SIDES[side]} ${names[i]}`).join(', ')}`;
    },
  );
}

const SIDES = ['left', 'right'] as const;
