import { InputError } from '../errors.ts';
import { stabilise } from './computeStabilisation.ts';
import { fitLocalModes } from './fitLocalModes.ts';
import { type GatheredMode, gatherModes } from './gatherModes.ts';
import { describeMode } from './identifyModes.ts';
import { MAXIMUM_HZ, MINIMUM_HZ, prepareStrikes } from './prepareStrikes.ts';
import type { ModeCandidate, StrikeSegment } from './strikeSegment.ts';

/** How far from the analyst's frequency the pole may lie: share of the frequency, or lines. */
const REACH_SHARE = 0.05;
const REACH_LINES = 1.5;
/**
 * Where nothing can be fitted: damping as poles show it, known no better than that (common practice, no
 * source).
 */
const USUAL_DAMPING = { value: 0.02, sd: 0.015 };
/** The least that an analyst's eye on a plotted peak leaves open, as a share of the frequency. */
const EYE_SHARE = 0.01;
/** Lines are computed up to this multiple of the frequency: beyond the band of its fit. */
const BAND_ABOVE = 1.5;

/**
 * Fits the mode nearest to a frequency that an analyst has set, in one plane, over all strikes.
 * @param plane - index into the planes of {@link identifyModes}
 * @param maximumHz - the one of {@link identifyModes}, so that both turn to the same planes; raised where
 *   `nearHz` lies too near to it or above
 * @returns the fitted mode, judged like any other; where no strike shows one, the analyst's own frequency
 *   with the spacing of spectral lines for its standard deviation, not accepted
 * `relativeAmplitude` compares with modes in the same neighbourhood only.
 * @throws InputError `modal.plane` for a plane or a frequency that the strikes do not have
 */
export function refineMode(
  strikes: readonly StrikeSegment[],
  plane: number,
  nearHz: number,
  maximumHz = MAXIMUM_HZ,
): ModeCandidate {
  const { azimuthsDeg, turned, turn } = prepareStrikes(strikes, {
    minimumHz: MINIMUM_HZ,
    maximumHz: Math.max(maximumHz, BAND_ABOVE * nearHz),
  });
  if (azimuthsDeg[plane] === undefined || !(nearHz > 0)) {
    throw new InputError(
      'modal.plane',
      `Plane ${plane} at ${nearHz} Hz is asked for; a plane from 0 to ${azimuthsDeg.length - 1} and a frequency above 0 are expected.`,
      'Choose a plane that was recorded, and set the frequency on its spectrum.',
    );
  }
  const spacing = Math.max(...turned.map((strike) => strike.spacingHz));
  const reach = Math.max(REACH_SHARE * nearHz, REACH_LINES * spacing);
  const sightings = turned.flatMap((strike) =>
    fitLocalModes(
      strike,
      {
        frequencyHz: nearHz,
        halfWidthHz: spacing,
        heightDb: 0,
        fromHz: nearHz - reach,
        toHz: nearHz + reach,
      },
      turn.sd,
    ),
  );
  const modes = gatherModes(sightings).filter((mode) => mode.plane === plane);
  const near = modes.filter((mode) => Math.abs(mode.frequencyHz.value - nearHz) <= reach);
  if (near.length > 0) {
    const distance = (mode: GatheredMode) => Math.abs(mode.frequencyHz.value - nearHz);
    const nearest = near.reduce((a, b) => (distance(b) < distance(a) ? b : a));
    const { clusters } = stabilise(turned, azimuthsDeg.length, MINIMUM_HZ, [nearest.frequencyHz.value]);
    return describeMode(nearest, { azimuthsDeg, strikes: turned, modes, clusters });
  }
  return {
    plane,
    azimuthDeg: azimuthsDeg[plane],
    frequencyHz: { value: nearHz, sd: Math.max(spacing, EYE_SHARE * nearHz) },
    dampingRatio: USUAL_DAMPING,
    prominenceDb: 0,
    strikes: 0,
    relativeAmplitude: 0,
    orders: 0,
    accepted: false,
    refusal: 'faint',
    reason:
      'No strike shows a decaying mode here in this plane; the frequency is as set by hand, the damping a usual one.',
  };
}
