import { estimateTurn } from './estimateTurn.ts';
import type { Neighbourhood } from './fitLocalModes.ts';
import { type Centre, proposeCentres } from './proposeCentres.ts';
import { listPlanes, type StrikeLines, transformStrike } from './strikeLines.ts';
import type { MeasuredValue, StrikeSegment } from './strikeSegment.ts';
import { turnChannels } from './turnChannels.ts';

/** Strikes along the principal planes of the pole, and where their spectra show peaks. */
export interface PreparedStrikes {
  /** Azimuth of each plane: that of the sensor's axis, or of the principal plane where it lies far off it. */
  readonly azimuthsDeg: readonly number[];
  readonly turned: readonly StrikeLines[];
  /** From the sensor's axes to the principal planes, radians in the sense of azimuths. */
  readonly turn: MeasuredValue;
  /** Ascending frequency. */
  readonly neighbourhoods: readonly Neighbourhood[];
}

export const MINIMUM_HZ = 0.4;
/** Third modes of poles lie below. */
export const MAXIMUM_HZ = 120;
/** Recorders roll off before half the sample rate. */
const USABLE_SHARE_OF_RATE = 0.4;
/** A middle owns at most this share of frequency, or so many lines, on either side. */
const OWNED_SHARE = 0.12;
const OWNED_LINES = 5;
/**
 * A turn within this is the strap's: sensors are put on by eye, and planes follow the line (common practice, no
 * source). Beyond it, the pole's planes lie elsewhere than the sensor was aimed at.
 */
const STRAPPED_WITHIN = (12 * Math.PI) / 180;
const CERTAIN_SDS = 2;

type Range = { readonly minimumHz: number; readonly maximumHz: number };

/** The same strikes are asked about again and again while an analyst moves picks; segments are never changed. */
const prepared = new WeakMap<readonly StrikeSegment[], Map<string, PreparedStrikes>>();

/** Transforms strikes to spectral lines, finds where to look, and turns them to the principal planes. */
export function prepareStrikes(strikes: readonly StrikeSegment[], range: Range): PreparedStrikes {
  const known = prepared.get(strikes) ?? new Map<string, PreparedStrikes>();
  prepared.set(strikes, known);
  const key = `${range.minimumHz} ${range.maximumHz}`;
  const there = known.get(key);
  if (there) return there;
  const fresh = prepareAnew(strikes, range);
  known.set(key, fresh);
  return fresh;
}

function prepareAnew(strikes: readonly StrikeSegment[], { minimumHz, maximumHz }: Range): PreparedStrikes {
  const planes = listPlanes(strikes);
  const transformed = strikes.map((strike) =>
    transformStrike(strike, planes, Math.min(maximumHz, USABLE_SHARE_OF_RATE * strike.sampleRateHz)),
  );
  const neighbourhoods = divide(proposeCentres(transformed, minimumHz), transformed);
  const turn = estimateTurn(
    transformed,
    neighbourhoods.toSorted((a, b) => b.heightDb - a.heightDb),
  );
  const turned = transformed.map((strike) => turnChannels(strike, turn.value));
  const isElsewhere = Math.abs(turn.value) > Math.max(STRAPPED_WITHIN, CERTAIN_SDS * turn.sd);
  const shownDeg = isElsewhere ? Math.round((1800 * turn.value) / Math.PI) / 10 : 0;
  const azimuthsDeg = planes.map((azimuth) => (((azimuth + shownDeg) % 360) + 360) % 360);
  return { azimuthsDeg: shownDeg === 0 ? planes : azimuthsDeg, turned, turn, neighbourhoods };
}

/** Gives each centre the stretch up to half way to its neighbours, so that no pole is counted twice. */
function divide(centres: readonly Centre[], strikes: readonly StrikeLines[]): Neighbourhood[] {
  const spacing = Math.max(...strikes.map((strike) => strike.spacingHz));
  return centres.map((centre, i) => {
    const f = centre.frequencyHz;
    const reach = Math.max(OWNED_SHARE * f, OWNED_LINES * spacing);
    const below = centres[i - 1]?.frequencyHz ?? 0;
    const above = centres[i + 1]?.frequencyHz ?? Number.POSITIVE_INFINITY;
    return {
      ...centre,
      fromHz: Math.max(f - reach, (f + below) / 2),
      toHz: Math.min(f + reach, (f + above) / 2),
    };
  });
}
