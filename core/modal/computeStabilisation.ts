import { type ChainedPole, chainPoles, type PoleStatus } from './chainPoles.ts';
import { fitCommonDenominator, type WeightedLines } from './commonDenominator.ts';
import { MAXIMUM_HZ, MINIMUM_HZ, prepareStrikes } from './prepareStrikes.ts';
import { cutBand, type StrikeLines } from './strikeLines.ts';
import type { StrikeSegment } from './strikeSegment.ts';

export interface StabilisationOptions {
  /** @default 0.4 */
  readonly minimumHz?: number;
  /** @default 120 */
  readonly maximumHz?: number;
}

/** One pole of one order in the picture. */
export interface StabilisationPole {
  /** Poles that the model had in the band of about an octave in which this one lies. */
  readonly order: number;
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  readonly status: PoleStatus;
  /** Share of the pole's energy along each principal plane, over all strikes; 1 together. */
  readonly planeShares: number[];
}

/** Poles of several orders that are one and the same. */
export interface PoleCluster {
  /** Medians over the poles that hold. */
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  readonly planeShares: number[];
  /** Plane with the largest share. */
  readonly plane: number;
  /** Orders at which it stands, and that number over those from its first on. */
  readonly orders: number;
  readonly standing: number;
  /** Half of the middle 68 % of the frequencies. */
  readonly spreadHz: number;
}

/** A stabilisation diagram as plain data. */
export interface Stabilisation {
  readonly orders: number[];
  readonly planes: { readonly azimuthDeg: number }[];
  readonly poles: StabilisationPole[];
  readonly clusters: PoleCluster[];
  /** Mean level of the strikes along each plane, dB re the highest, for drawing behind the poles. */
  readonly indicator: { readonly frequenciesHz: number[]; readonly planes: number[][] };
}

/**
 * A band answers for a stretch of this ratio and looks further by the margin at either end: the fewer modes and
 * the less noise it holds, the lower the order at which the poles stand.
 */
const BAND_RATIO = 1.5;
const BAND_MARGIN = 1.2;
const HIGHEST_ORDER = 16;
/** A mode this near to a band's edge, as a ratio, may have its poles beyond it. */
const NEAR_BAND = 1.03;
/** Short records have few lines: their bands reach further. */
const FEWEST_LINES = 40;
/** Lines of a band by order: fewer leave nothing to average noise over. */
const LINES_AN_ORDER = 2.5;
const LOWEST_ORDER = 2;
/** A cluster's poles at least. */
const FEWEST_HELD = 4;
/** Points of the indicator: more than a window has columns would only be sent for nothing. */
const INDICATOR_POINTS = 1200;
/** Levels below the highest are cut here: nothing is drawn below. */
const LOWEST_LEVEL_DB = -120;

/**
 * Computes a stabilisation diagram over all channels and strikes together: poles common to all of them by
 * {@link fitCommonDenominator}, band by band, for orders 2 to 16, each compared with the poles one order below,
 * and clusters of those that hold. Strikes are turned to the principal planes and weighed by the energy of
 * their noise, which no pole explains.
 * @param strikes - usable strikes of one visit
 * @throws InputError `modal.strike` for a strike whose fields do not fit together
 */
export function computeStabilisation(
  strikes: readonly StrikeSegment[],
  options: StabilisationOptions = {},
): Stabilisation {
  const { minimumHz = MINIMUM_HZ, maximumHz = MAXIMUM_HZ } = options;
  if (strikes.length === 0)
    return { orders: [], planes: [], poles: [], clusters: [], indicator: { frequenciesHz: [], planes: [] } };
  const { azimuthsDeg, turned } = prepareStrikes(strikes, { minimumHz, maximumHz });
  return {
    orders: Array.from({ length: HIGHEST_ORDER - LOWEST_ORDER + 1 }, (_, i) => LOWEST_ORDER + i),
    planes: azimuthsDeg.map((azimuthDeg) => ({ azimuthDeg })),
    ...stabilise(turned, azimuthsDeg.length, minimumHz),
    indicator: measureIndicator(turned, azimuthsDeg.length, minimumHz),
  };
}

/**
 * Poles and clusters of strikes that lie along the principal planes.
 * @param nearHz - only bands that hold or border one of these are looked at; null: all
 */
export function stabilise(
  turned: readonly StrikeLines[],
  planes: number,
  minimumHz: number,
  nearHz: readonly number[] | null = null,
): { poles: StabilisationPole[]; clusters: PoleCluster[] } {
  const highest = Math.min(...turned.map(({ lines }) => lines.frequenciesHz.at(-1)!));
  const poles: StabilisationPole[] = [];
  const clusters: PoleCluster[] = [];
  for (let fromHz = minimumHz; fromHz < highest; fromHz *= BAND_RATIO) {
    const toHz = Math.min(fromHz * BAND_RATIO, highest);
    const isNear = (frequencyHz: number) =>
      frequencyHz * NEAR_BAND > fromHz && frequencyHz < toHz * NEAR_BAND;
    if (nearHz !== null && !nearHz.some(isNear)) continue;
    const chained = chainBand(turned, planes, fromHz, toHz);
    const own = chained.filter(({ frequencyHz }) => frequencyHz >= fromHz && frequencyHz < toHz);
    poles.push(
      ...own
        .filter(({ order }) => order >= LOWEST_ORDER)
        .map(({ order, frequencyHz, dampingRatio, status, planeShares }) => ({
          order,
          frequencyHz,
          dampingRatio,
          status,
          planeShares,
        })),
    );
    clusters.push(...gatherClusters(own));
  }
  return { poles, clusters };
}

function chainBand(
  turned: readonly StrikeLines[],
  planes: number,
  fromHz: number,
  toHz: number,
): ChainedPole[] {
  const lowHz = fromHz / BAND_MARGIN;
  const widest = Math.max(...turned.map(({ spacingHz }) => spacingHz));
  const highHz = Math.max(toHz * BAND_MARGIN, lowHz + FEWEST_LINES * widest);
  const channels: WeightedLines[] = [];
  const planeOf: number[] = [];
  let fewest = Number.POSITIVE_INFINITY;
  for (const strike of turned) {
    const { frequenciesHz, channels: lines, noisePower } = cutBand(strike, lowHz, highHz);
    fewest = Math.min(fewest, frequenciesHz.length);
    lines.forEach(({ re, im }, c) => {
      channels.push({ frequenciesHz, re, im, weight: weighChannel(re, im, noisePower[c]!) });
      planeOf.push(strike.planes[c]!);
    });
  }
  const highestOrder = Math.min(HIGHEST_ORDER, Math.floor(fewest / LINES_AN_ORDER) - 1);
  if (highestOrder < LOWEST_ORDER) return [];
  return chainPoles(fitCommonDenominator(channels, lowHz, highHz, highestOrder), highestOrder, (residues) => {
    const energies = new Array<number>(planes).fill(0);
    residues.forEach(({ re, im }, i) => {
      energies[planeOf[i]!]! += channels[i]!.weight * (re * re + im * im);
    });
    const total = energies.reduce((sum, energy) => sum + energy, 0) || 1;
    return energies.map((energy) => energy / total);
  });
}

/**
 * One over the noise of a line: half of the lines are quieter than their median, which modes hardly move.
 * Exponential power of noise has its median at ln 2 of its mean.
 */
function weighChannel(re: Float64Array, im: Float64Array, leastPower: number): number {
  const powers = new Float64Array(re.length);
  for (let k = 0; k < powers.length; k++) powers[k] = re[k]! * re[k]! + im[k]! * im[k]!;
  powers.sort();
  const QUIET_QUANTILE = 0.25;
  const quiet = powers[Math.floor(QUIET_QUANTILE * powers.length)] ?? 0;
  return 1 / Math.max(quiet / -Math.log(1 - QUIET_QUANTILE), leastPower, Number.MIN_VALUE);
}

function gatherClusters(poles: readonly ChainedPole[]): PoleCluster[] {
  const chains = Map.groupBy(poles, ({ chain }) => chain);
  return [...chains.values()].flatMap((chain) => {
    const held = chain.filter(({ status }) => status === 'holds');
    if (held.length < FEWEST_HELD) return [];
    const take = (values: number[], share: number) =>
      values.sort((a, b) => a - b)[Math.floor(share * values.length)]!;
    const frequencies = held.map(({ frequencyHz }) => frequencyHz);
    const shares = held[0]!.planeShares.map((_, p) =>
      take(
        held.map(({ planeShares }) => planeShares[p]!),
        0.5,
      ),
    );
    const first = Math.min(...chain.map(({ order }) => order));
    const orders = new Set(chain.map(({ order }) => order)).size;
    return [
      {
        frequencyHz: take(frequencies, 0.5),
        dampingRatio: take(
          held.map(({ dampingRatio }) => dampingRatio),
          0.5,
        ),
        planeShares: shares,
        plane: shares.indexOf(Math.max(...shares)),
        orders,
        standing: orders / (chain[0]!.highestOrder - first + 1),
        spreadHz: (take(frequencies, 0.84) - take(frequencies, 0.16)) / 2,
      },
    ];
  });
}

function measureIndicator(turned: readonly StrikeLines[], planes: number, minimumHz: number) {
  const finest = turned.reduce((a, b) => (b.spacingHz < a.spacingHz ? b : a));
  const maximumHz = finest.lines.frequenciesHz.at(-1)!;
  const step = Math.max(finest.spacingHz, (maximumHz - minimumHz) / INDICATOR_POINTS);
  const points = Math.floor((maximumHz - minimumHz) / step) + 1;
  const powers = Array.from({ length: planes }, () => new Float64Array(points));
  for (const strike of turned) {
    // every strike counts alike, however hard it was
    const energy = strike.lines.channels.reduce(
      (sum, { re, im }) => sum + re.reduce((own, x, k) => own + x * x + im[k]! * im[k]!, 0),
      0,
    );
    strike.lines.channels.forEach(({ re, im }, c) => {
      const own = powers[strike.planes[c]!]!;
      for (let i = 0; i < points; i++) {
        const at = (minimumHz + i * step) / strike.spacingHz - 1;
        const from = Math.max(0, Math.round(at - step / strike.spacingHz / 2));
        const to = Math.min(re.length - 1, Math.max(from, Math.round(at + step / strike.spacingHz / 2) - 1));
        let power = 0;
        for (let k = from; k <= to; k++) power = Math.max(power, re[k]! * re[k]! + im[k]! * im[k]!);
        own[i]! += power / energy;
      }
    });
  }
  const highest = Math.max(...powers.map((own) => own.reduce((a, b) => Math.max(a, b), 0)));
  return {
    frequenciesHz: Array.from({ length: points }, (_, i) => minimumHz + i * step),
    planes: powers.map((own) =>
      Array.from(own, (power) => Math.max(LOWEST_LEVEL_DB, 10 * Math.log10(power / highest))),
    ),
  };
}
