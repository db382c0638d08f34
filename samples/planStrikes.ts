import type { FaultId } from './faults.ts';
import { createRandomStream, type RandomStream } from './random.ts';
import type { Pulse } from './simulator/index.ts';

export type Exciter = 'hammer' | 'hand';

/** One blow as it really fell. */
export interface PlannedStrike {
  /** First pulse, and a bounce where the blow is double. */
  readonly pulses: readonly Pulse[];
  readonly heightM: number;
  /** Angle of the blow against the line, in degrees; 45 is asked for. */
  readonly offLineDeg: number;
  readonly ringDownS: number;
  readonly faults: readonly FaultId[];
}

/** Force and contact of the two exciters (common practice, no source): a hammer is hard and short, a hand soft and long. */
const EXCITERS = {
  hammer: { peakN: [1800, 3200], contactS: [0.004, 0.006], heightM: 1.3 },
  hand: { peakN: [700, 1100], contactS: [0.028, 0.04], heightM: 1.7 },
} as const;

const PRE_TRIGGER_S = 0.9;
const RING_DOWN_TWO_S = [9, 9.9] as const;
const RING_DOWN_MORE_S = [6.2, 6.6] as const;
/** Cut short: about two swings of mode 1, or one where nothing may be read from it. */
const RING_DOWN_CUT_S = [0.9, 1.2] as const;
const RING_DOWN_HOPELESS_S = [0.45, 0.6] as const;
/** A bounce comes after a few hundredths of a second, with a good part of the force. */
const BOUNCE_AFTER_S = { hammer: [0.035, 0.08], hand: [0.12, 0.25] } as const;
const BOUNCE_SHARE = [0.7, 1] as const;
const LOW_LEVEL_SHARE = 0.06;
/** A short tap close to the ground moves the first mode least. */
const LOW_BAND_WEAK = { heightM: 0.5, contactS: 0.003, forceShare: 0.6 } as const;
const PLANE_WEAK_OFF_LINE_DEG = 2;
const AIM_SPREAD_DEG = 5;

/** Plans the blows of one recording from its lists of faults; the same seed gives the same blows. */
export function planStrikes(
  exciter: Exciter,
  faultLists: readonly (readonly FaultId[])[],
  hopeless: boolean,
  seed: string,
): readonly PlannedStrike[] {
  const random = createRandomStream(`strikes ${seed}`);
  let startS = PRE_TRIGGER_S + random.between(0, 0.2);
  return faultLists.map((faults) => {
    const strike = planStrike(exciter, faults, faultLists.length, hopeless, startS, random);
    startS += strike.ringDownS;
    return strike;
  });
}

function planStrike(
  exciter: Exciter,
  faults: readonly FaultId[],
  strikes: number,
  hopeless: boolean,
  startS: number,
  random: RandomStream,
): PlannedStrike {
  const habit = EXCITERS[exciter];
  const weak = faults.includes('low-band');
  const peakN =
    random.within(habit.peakN) *
    (weak ? LOW_BAND_WEAK.forceShare : 1) *
    (faults.includes('noise') ? LOW_LEVEL_SHARE : 1);
  const contactS = weak ? LOW_BAND_WEAK.contactS : random.within(habit.contactS);
  const pulses: Pulse[] = [{ startS, contactS, peakN }];
  if (faults.includes('double-blow')) {
    pulses.push({
      startS: startS + random.within(BOUNCE_AFTER_S[exciter]),
      contactS,
      peakN: peakN * random.within(BOUNCE_SHARE),
    });
  }
  const usualRingDownS = strikes > 2 ? RING_DOWN_MORE_S : RING_DOWN_TWO_S;
  const cutRingDownS = hopeless ? RING_DOWN_HOPELESS_S : RING_DOWN_CUT_S;
  return {
    pulses,
    heightM: weak ? LOW_BAND_WEAK.heightM : habit.heightM,
    offLineDeg: faults.includes('weak-plane')
      ? PLANE_WEAK_OFF_LINE_DEG
      : 45 + AIM_SPREAD_DEG * random.normalWithin(2),
    ringDownS: random.within(faults.includes('cut-short') ? cutRingDownS : usualRingDownS),
    faults,
  };
}
