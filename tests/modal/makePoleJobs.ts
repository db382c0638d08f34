import { fitCommonDenominator, type WeightedLines } from '../../core/modal/commonDenominator.ts';
import { fitPoles } from '../../core/modal/index.ts';
import { startPoles } from '../../core/modal/startPoles.ts';
import { cutBand, listPlanes, transformStrike } from '../../core/modal/strikeLines.ts';
import { makeBand } from './makeBand.ts';
import { createNormal, makeDecay } from './makeDecay.ts';
import { makePlane, makeVisit } from './makeVisit.ts';

/** A fit of this program, and the same question for tests/reference/polesReference.py. */
interface PoleJob<T> {
  readonly run: () => T;
  readonly question: object;
}

const EXCITERS = ['hammer', 'hammer', 'hammer', 'hand', 'hand', 'hand'] as const;
const BAND_HZ = [8, 13] as const;
const HIGHEST_ORDER = 16;

/** Poles common to two channels of six strikes, in a band that holds mode 2 of both planes, for orders 1 to 16. */
export function makeCommonJob(): PoleJob<ReturnType<typeof fitCommonDenominator>> {
  const strikes = makeVisit({ planes: [makePlane(1), makePlane(1.02)], exciters: EXCITERS, seed: 4 });
  const [lowHz, highHz] = BAND_HZ;
  const channels = strikes.flatMap((strike): WeightedLines[] => {
    const { frequenciesHz, channels: lines } = cutBand(
      transformStrike(strike, listPlanes(strikes), 2 * highHz),
      lowHz,
      highHz,
    );
    return lines.map(({ re, im }) => ({ frequenciesHz, re, im, weight: 1 }));
  });
  return {
    run: () => fitCommonDenominator(channels, lowHz, highHz, HIGHEST_ORDER),
    question: {
      kind: 'common denominator',
      lowHz,
      highHz,
      highestOrder: HIGHEST_ORDER,
      channels: channels.map(({ frequenciesHz, re, im, weight }) => ({
        frequenciesHz: [...frequenciesHz],
        re: [...re],
        im: [...im],
        weight,
      })),
    },
  };
}

const DECAY = { frequencyHz: 14.3, dampingRatio: 0.012, amplitude: 3, phase: 1 };

/** The pole of one decay in noise; the question comes with the start that the program finds for itself. */
export function makeDecayJob(): PoleJob<ReturnType<typeof fitPoles>> {
  const samples = makeDecay(4000, 500, [DECAY], { sd: 0.05, normal: createNormal(6) });
  const band = makeBand([samples], 500, 11, 17.6);
  const { frequenciesHz, channels, sampleRateHz } = band.lines;
  const [start] = startPoles(band, 1);
  return {
    run: () => fitPoles(band, 1),
    question: {
      kind: 'decay',
      sampleRateHz,
      frequenciesHz: [...frequenciesHz],
      re: [...channels[0]!.re],
      im: [...channels[0]!.im],
      backgroundTerms: band.curves.length,
      startDecayRate: start!.decayRate,
      startAngularFrequency: start!.angularFrequency,
    },
  };
}
