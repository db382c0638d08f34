import { encodeRecording, type RecordingForm } from './encodeRecording.ts';
import type { FaultId } from './faults.ts';
import { findPeak, passSensor } from './passSensor.ts';
import type { PoleState } from './place.ts';
import { type Exciter, type PlannedStrike, planStrikes } from './planStrikes.ts';
import { createRandomStream } from './random.ts';
import { leanLadder, type StruckPole, simulateStrike } from './simulateStrike.ts';
import type { VisitStory } from './stories.ts';

/** One file from the recorder, with what really happened in it. */
export interface MadeRecording {
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly exciter: Exciter;
  readonly form: RecordingForm;
  readonly sampleRateHz: number;
  readonly fullScaleMPerS2: number;
  readonly cornerHz: number;
  readonly strikeHeightM: number;
  readonly strikes: readonly StrikeTruth[];
}

/** The truth of one strike. */
interface StrikeTruth {
  readonly startS: number;
  readonly ringDownS: number;
  readonly peakForceN: number;
  readonly contactS: number;
  /** From the first pulse to the bounce of a double blow. */
  readonly bounceAfterS: number | null;
  readonly offLineDeg: number;
  readonly faults: readonly FaultId[];
}

/** Ranges of the recorder, from 0.5 to 100 g; the crew takes the least that is not passed by the blow. */
const RANGES_M_PER_S2 = [4.905, 9.81, 19.62, 49.05, 98.1, 196.2, 490.5, 981];
const HIGHEST_SHARE_OF_RANGE = 0.75;
const CORNER_HZ = 0.2;
/** A sensor made for machines. */
const HIGH_CORNER_HZ = 6;
/** One blow too hard for the range by this factor, or a range too small for all blows. */
const CLIP_TIMES = 1.7;
const CLIP_TIMES_HOPELESS = 25;
const USUAL_RATE_HZ = 2000;

/** Makes the recordings of a visit, hammer first. */
export function recordVisit(
  state: PoleState,
  struck: StruckPole,
  visit: VisitStory,
  name: string,
  sensorTurnDeg: number,
): readonly MadeRecording[] {
  const good: readonly (readonly FaultId[])[] = [[], []];
  const plans: [Exciter, readonly (readonly FaultId[])[] | null][] = [
    ['hammer', visit.hammer === undefined ? good : visit.hammer],
    ['hand', visit.hand === undefined ? good : visit.hand],
  ];
  return plans.flatMap(([exciter, faultLists]) => {
    if (faultLists === null) return [];
    const strikes = planStrikes(exciter, faultLists, visit.hopeless ?? false, `${name} ${exciter}`);
    return [makeRecording(state, struck, visit, `${name}-${exciter}`, exciter, strikes, sensorTurnDeg)];
  });
}

function makeRecording(
  state: PoleState,
  struck: StruckPole,
  visit: VisitStory,
  stem: string,
  exciter: Exciter,
  strikes: readonly PlannedStrike[],
  sensorTurnDeg: number,
): MadeRecording {
  const form = visit.form ?? 'pcm16';
  const sampleRateHz = visit.sampleRateHz ?? USUAL_RATE_HZ;
  const last = strikes.at(-1)!;
  const samples = Math.round((last.pulses[0]!.startS + last.ringDownS) * sampleRateHz);
  const hopeless = visit.hopeless ?? false;
  const faults = new Set(strikes.flatMap((strike) => strike.faults));

  const movements = strikes.map((strike) => {
    const pole = strike.faults.includes('repeatability') ? leanLadder(state, struck) : struck;
    return simulateStrike(pole, strike, sensorTurnDeg, sampleRateHz, samples);
  });
  const peaks = movements.map((axes) => Math.max(findPeak(axes[0]), findPeak(axes[1])));
  const rangeTooSmall = hopeless && faults.has('clipping');
  const fullScaleMPerS2 = rangeTooSmall
    ? Number((Math.min(...peaks) / CLIP_TIMES_HOPELESS).toPrecision(2))
    : chooseRange(Math.max(...peaks));
  const gains = strikes.map((strike, i) =>
    strike.faults.includes('clipping') && !rangeTooSmall ? (CLIP_TIMES * fullScaleMPerS2) / peaks[i]! : 1,
  );
  const cornerHz = faults.has('corner') ? HIGH_CORNER_HZ : CORNER_HZ;
  const random = createRandomStream(`sensor ${stem}`);
  const keep = (axis: 0 | 1): Float64Array => {
    const sum = new Float64Array(samples);
    for (const [i, axes] of movements.entries()) {
      const gain = gains[i]!;
      const values = axes[axis];
      for (let j = 0; j < samples; j++) sum[j]! += gain * values[j]!;
    }
    return passSensor(sum, strikes, { sampleRateHz, cornerHz, fullScaleMPerS2 }, hopeless, random);
  };
  return {
    file: `${stem}.${form === 'csv' ? 'csv' : 'wav'}`,
    bytes: encodeRecording([keep(0), keep(1)], sampleRateHz, fullScaleMPerS2, form),
    exciter,
    form,
    sampleRateHz,
    fullScaleMPerS2,
    cornerHz,
    strikeHeightM: strikes[0]!.heightM,
    strikes: strikes.map((strike, i) => ({
      startS: strike.pulses[0]!.startS,
      ringDownS: strike.ringDownS,
      peakForceN: strike.pulses[0]!.peakN * gains[i]!,
      contactS: strike.pulses[0]!.contactS,
      bounceAfterS:
        strike.pulses[1] === undefined ? null : strike.pulses[1].startS - strike.pulses[0]!.startS,
      offLineDeg: strike.offLineDeg,
      faults: strike.faults,
    })),
  };
}

function chooseRange(peakMPerS2: number): number {
  return (
    RANGES_M_PER_S2.find((range) => peakMPerS2 <= HIGHEST_SHARE_OF_RANGE * range) ?? RANGES_M_PER_S2.at(-1)!
  );
}
