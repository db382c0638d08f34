import { type FittedPole, fitPoles, type PoleFit } from './fitPoles.ts';
import { pickChannels, prepareBand } from './prepareBand.ts';
import { cutBand, type StrikeLines } from './strikeLines.ts';
import type { MeasuredValue } from './strikeSegment.ts';

/** Where to look: the band's middle, the peak's half width, and the stretch whose poles belong to this middle. */
export interface Neighbourhood {
  readonly frequencyHz: number;
  readonly halfWidthHz: number;
  readonly fromHz: number;
  readonly toHz: number;
}

/** One mode in one plane, as one strike shows it. */
export interface Sighting {
  readonly strike: StrikeLines;
  readonly plane: number;
  readonly frequencyHz: MeasuredValue;
  readonly dampingRatio: MeasuredValue;
  readonly peakDb: number;
  /** First amplitude of the decay, m/s2. */
  readonly amplitude: number;
  /** The same pole rings as much in another plane, where it is the larger or equal part. */
  readonly isEcho: boolean;
}

/** Half width of a band in lines on either side, and in half-power widths of the peak: a fit gains little further out. */
const BAND_LINES = 8;
const BAND_WIDTHS = 6;
/** Beyond this share of its frequency a band would reach neighbours; beyond so many lines it costs time for nothing. */
const BAND_SHARE = 0.3;
const MOST_HALF_LINES = 100;
const FEWEST_LINES = 10;
/** Two planes, and a line of mains hum or a cable beside them. */
const MOST_POLES = 3;
/** A sighting stands this far over the noise of a line. */
const LEAST_SIGHT_DB = 6;
/** A pole that rings in two planes counts in both if the smaller amplitude is this share of the larger: beyond 18 degrees of turn. */
const ECHO_SHARE = 1 / 3;

interface LocalModel {
  readonly criterion: number;
  /** Fits by channel group; one fit for all channels, or one for each plane. */
  readonly fits: readonly { readonly fit: PoleFit; readonly channels: readonly number[] }[];
}

/**
 * Fits the modes of one strike near a frequency. Models compete by the information criterion: nothing but background;
 * one, two or three poles common to all channels; one pole of its own in each plane. The winner's poles in the neighbourhood
 * are shared out to planes.
 * @returns none where the band has too few lines or shows nothing
 */
export function fitLocalModes(strike: StrikeLines, near: Neighbourhood): Sighting[] {
  const spacing = strike.spacingHz;
  const half = Math.min(
    Math.max(
      BAND_LINES * spacing,
      Math.min(BAND_WIDTHS * near.halfWidthHz + BAND_LINES * spacing, BAND_SHARE * near.frequencyHz),
    ),
    MOST_HALF_LINES * spacing,
  );
  const lines = cutBand(strike, Math.max(near.frequencyHz - half, spacing), near.frequencyHz + half);
  if (lines.frequenciesHz.length < FEWEST_LINES) return [];
  const band = prepareBand(lines);
  const all = strike.planes.map((_, c) => c);
  const fitTogether = (count: number): LocalModel => {
    const fit = fitPoles(band, count);
    return { criterion: fit.criterion, fits: [{ fit, channels: all }] };
  };
  const nothing = fitTogether(0);
  const one = fitTogether(1);
  const planes = [...new Set(strike.planes)];
  const apart: LocalModel = fitApart();
  let best = [nothing, one, apart].reduce((a, b) => (b.criterion < a.criterion ? b : a));
  for (let count = 2; count <= MOST_POLES; count++) {
    const next = fitTogether(count);
    if (!(next.criterion < best.criterion)) break;
    best = next;
  }
  if (best === nothing) return [];
  if (best === one && planes.length > 1) return shareOnePole();
  if (best === apart)
    return apart.fits.flatMap(({ fit, channels }) =>
      sightAll(fit, channels).filter((s) => channels.some((c) => strike.planes[c] === s.plane)),
    );
  return settlePair(sightAll(best.fits[0]!.fit, all));

  function fitApart(): LocalModel {
    const fits = planes.map((plane) => {
      const channels = all.filter((c) => strike.planes[c] === plane);
      return { fit: fitPoles(pickChannels(band, channels), 1), channels };
    });
    return { fits, criterion: fits.reduce((sum, { fit }) => sum + fit.criterion, 0) };
  }

  /** One pole for all: a mode of one plane, or equal modes of several, each then with its own fit. */
  function shareOnePole(): Sighting[] {
    const [main] = sightAll(one.fits[0]!.fit, all);
    if (main === undefined) return [];
    const pole = one.fits[0]!.fit.poles[0]!;
    const echoes = planes
      .filter((plane) => plane !== main.plane && amplitudeIn(pole, all, plane) >= ECHO_SHARE * main.amplitude)
      .flatMap((plane) => {
        const own = apart.fits[planes.indexOf(plane)]!;
        return sightAll(own.fit, own.channels).map((sighting) => ({ ...sighting, isEcho: true }));
      });
    return [main, ...echoes];
  }

  function amplitudeIn(pole: FittedPole, channels: readonly number[], plane: number): number {
    // the residue holds 1 - z^N of the amplitude; the real decay is the pole and its conjugate
    const growth = Math.exp(-pole.decayRate * strike.durationS);
    const angle = pole.angularFrequency * strike.durationS;
    const kept = Math.hypot(1 - growth * Math.cos(angle), growth * Math.sin(angle));
    let largest = 0;
    channels.forEach((c, i) => {
      const { re, im } = pole.residues[i]!;
      if (strike.planes[c] === plane) largest = Math.max(largest, (2 * Math.hypot(re, im)) / kept);
    });
    return largest;
  }

  function sightAll(fit: PoleFit, channels: readonly number[]): Sighting[] {
    return fit.poles.flatMap((pole) => {
      const { value } = pole.frequencyHz;
      if (!(value >= near.fromHz && value < near.toHz) || !(pole.decayRate > 0)) return [];
      const own = [...new Set(channels.map((c) => strike.planes[c]!))];
      const plane = own.reduce((a, b) =>
        amplitudeIn(pole, channels, b) > amplitudeIn(pole, channels, a) ? b : a,
      );
      const peakDb = Math.max(
        ...channels.map((c, i) => (strike.planes[c] === plane ? pole.peakDb[i]! : Number.NEGATIVE_INFINITY)),
      );
      if (!(peakDb >= LEAST_SIGHT_DB) || !Number.isFinite(pole.frequencyHz.sd)) return [];
      return [
        {
          strike,
          plane,
          frequencyHz: pole.frequencyHz,
          dampingRatio: pole.dampingRatio,
          peakDb,
          amplitude: amplitudeIn(pole, channels, plane),
          isEcho: false,
        },
      ];
    });
  }

  /** Two poles that both ring more in one plane belong to one plane each where the weaker tie leaves room for it. */
  function settlePair(sightings: Sighting[]): Sighting[] {
    const [a, b] = sightings;
    if (
      a === undefined ||
      b === undefined ||
      sightings.length !== 2 ||
      a.plane !== b.plane ||
      planes.length !== 2
    )
      return sightings;
    const other = planes.find((plane) => plane !== a.plane)!;
    const shares = [a, b].map((sighting) => {
      const pole = best.fits[0]!.fit.poles.find((p) => p.frequencyHz === sighting.frequencyHz)!;
      return amplitudeIn(pole, all, other) / sighting.amplitude;
    });
    const moved = shares[0]! > shares[1]! ? 0 : 1;
    if (shares[moved]! < ECHO_SHARE) return sightings;
    return sightings.map((sighting, i) =>
      i === moved ? { ...sighting, plane: other, amplitude: sighting.amplitude * shares[moved]! } : sighting,
    );
  }
}
