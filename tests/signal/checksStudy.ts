/**
 * A labelled set of simulated strikes for the checks: poles from the finite-element simulator behind the samples,
 * blows, sensors and faults drawn here, with seeds of their own. The limits of the checks were set without the
 * set that bench/checksStudy.ts reports.
 */
import type { CalibratedRecording } from '../../core/recording/index.ts';
import { type CheckId, judgeVisit } from '../../core/signal/index.ts';
import { inventPole, standPole } from '../../samples/place.ts';
import type { PlannedStrike } from '../../samples/planStrikes.ts';
import { createRandomStream, type RandomStream } from '../../samples/random.ts';
import { prepareStruckPole, type StruckPole, simulateStrike } from '../../samples/simulateStrike.ts';
import type { PoleStory } from '../../samples/stories.ts';

export const STRENGTHS = ['slight', 'clear', 'strong'] as const;
export type Strength = (typeof STRENGTHS)[number];

/** What each fault is at each strength, in words and as the figure that the simulation takes. */
export const STUDY_FAULTS: Readonly<
  Record<CheckId, { readonly what: string; readonly figures: readonly [number, number, number] }>
> = {
  clipping: { what: 'peak over the range', figures: [1.05, 1.3, 2] },
  'double-blow': { what: 'second impact over the first, 35 to 250 ms later', figures: [0.3, 0.6, 1] },
  noise: { what: 'standard deviation of noise over the peak', figures: [0.02, 0.08, 0.3] },
  'cut-short': { what: 'record in time constants of mode 1', figures: [0.8, 0.5, 0.25] },
  'low-band': { what: 'slow movement by wind, m/s2', figures: [0.03, 0.1, 0.3] },
  'weak-plane': { what: 'degrees between blow and a sensor axis', figures: [11, 6, 1] },
  'mains-hum': { what: 'hum over the peak', figures: [0.015, 0.05, 0.2] },
  rattle: { what: 'size of taps over the shaking', figures: [0.1, 0.3, 0.6] },
  offset: { what: 'shift of level over the peak', figures: [0.05, 0.12, 0.3] },
  corner: { what: 'corner of sensor and recorder, Hz', figures: [1.5, 3, 6] },
  repeatability: { what: 'frequencies changed by', figures: [0.02, 0.05, 0.12] },
};
export const STUDIED = Object.keys(STUDY_FAULTS) as CheckId[];

/** One labelled case and what the checks said; `fault` null: a good strike. */
export interface StudyCase {
  readonly fault: CheckId | null;
  readonly strength: Strength | null;
  readonly exciter: 'hammer' | 'hand';
  /** Checks that asked for care or a repeat; null where no strike was found. */
  readonly told: readonly CheckId[] | null;
  readonly verdict: string | null;
  /** Onset found less true, in s. */
  readonly lateS: number | null;
}

const EXCITERS = {
  hammer: { peakN: [1500, 3500], contactS: [0.0035, 0.007], heightM: 1.3 },
  hand: { peakN: [500, 1200], contactS: [0.025, 0.045], heightM: 1.7 },
} as const;
const SENSOR_NOISE_M_PER_S2 = [0.001, 0.004] as const;
const TREMOR_M_PER_S2 = [0.0005, 0.002] as const;
const TREMOR_CORNER_HZ = 0.6;
const BOUNCE_AFTER_S = { hammer: [0.035, 0.15], hand: [0.12, 0.25] } as const;
const RATTLE = { perS: 45, lastsS: 2.5, decayS: 0.004, frequencyHz: [250, 700] } as const;
const SETTLING_S = 2.5;
const HEADROOM = 1.6;

/** Runs the study: `aCell` cases for each fault and strength, and `good` without a fault. */
export function runChecksStudy(seed: string, aCell: number, good: number): StudyCase[] {
  const random = createRandomStream(`checks study ${seed}`);
  const poles = Array.from({ length: 12 }, (_, i) => makePole(`${seed}-${i}`, random));
  const labels: { fault: CheckId | null; strength: Strength | null }[] = [
    ...STUDIED.flatMap((fault) =>
      STRENGTHS.flatMap((strength) => Array.from({ length: aCell }, () => ({ fault, strength }))),
    ),
    ...Array.from({ length: good }, () => ({ fault: null, strength: null })),
  ];
  return labels.map(({ fault, strength }, i) => {
    const exciter = i % 2 === 0 ? 'hammer' : 'hand';
    const pole = poles[Math.floor(random.between(0, poles.length))]!;
    const figure = fault === null ? null : STUDY_FAULTS[fault].figures[STRENGTHS.indexOf(strength!)]!;
    const made = makeRecording(pole, exciter, fault, figure, random);
    const judged = judgeVisit(made.recordings);
    const [first] = judged.recordings[0]!.strikes;
    const told = first?.checks.flatMap((check) => (check.verdict === 'use' ? [] : [check.id]));
    const disagree = judged.repeatability.some(({ check }) => check.verdict !== 'use');
    return {
      fault,
      strength,
      exciter,
      told: told === undefined ? null : [...told, ...(disagree ? (['repeatability'] as const) : [])],
      verdict: first?.verdict ?? null,
      lateS: first === undefined ? null : first.strike.startS - made.startS,
    };
  });
}

function makePole(id: string, random: RandomStream): StruckPole {
  const choose = <T>(list: readonly T[]): T => list[Math.floor(random.between(0, list.length))]!;
  const story: PoleStory = {
    id: `ST-${id}`,
    species: choose(['southern-pine', 'douglas-fir', 'western-redcedar'] as const),
    treatment: 'none',
    classCode: choose(['2', '3', '4', '5', '6'] as const),
    lengthM: choose([9.14, 10.67, 12.19, 13.72] as const),
    setYear: 1990,
    soil: choose(['loose-sand', 'medium-sand', 'dense-sand', 'medium-clay', 'stiff-clay'] as const),
    backfill: random.between(0.5, 1.2),
    visits: [],
  };
  return prepareStruckPole(standPole(inventPole(story), { date: '2026-05-01' }), random);
}

function makeRecording(
  pole: StruckPole,
  exciter: 'hammer' | 'hand',
  fault: CheckId | null,
  figure: number | null,
  random: RandomStream,
): { recordings: CalibratedRecording[]; startS: number } {
  const sampleRateHz = random.between(0, 1) < 0.5 ? 2000 : 4000;
  const startS = random.between(0.8, 1.3);
  const slowest = Math.min(
    ...pole.planes.map((plane, p) => plane.frequenciesHz[0]! * pole.dampingRatios[p]![0]!),
  );
  const ringDownS = fault === 'cut-short' ? figure! / (2 * Math.PI * slowest) : random.between(8, 12);
  const count = Math.round((startS + ringDownS) * sampleRateHz);
  const cornerHz = fault === 'corner' ? figure! : 0.2;
  const record = (struck: StruckPole): CalibratedRecording => {
    const strike = planStrike(exciter, fault, figure, startS, ringDownS, random);
    const axes = simulateStrike(struck, strike, 0, sampleRateHz, count);
    const peak = Math.max(
      ...axes.map((axis) => axis.reduce((most, value) => Math.max(most, Math.abs(value)), 0)),
    );
    const range = fault === 'clipping' ? peak / figure! : peak * HEADROOM;
    return {
      fileName: 'study.wav',
      sampleRateHz,
      frames: count,
      exciter,
      channels: axes.map((axis, index) => ({
        index,
        samplesMPerS2: spoil(axis, { fault, figure, startS, sampleRateHz, cornerHz, peak, range, random }),
        fullScaleMPerS2: range,
        azimuthDeg: 90 * index,
        heightM: 2,
        cornerHz,
      })),
      warnings: [],
    };
  };
  const recordings = [record(pole)];
  if (fault === 'repeatability') recordings.push(record(shiftFrequencies(pole, 1 + figure!)));
  else if (fault === null) recordings.push(record(pole));
  return { recordings, startS };
}

function planStrike(
  exciter: 'hammer' | 'hand',
  fault: CheckId | null,
  figure: number | null,
  startS: number,
  ringDownS: number,
  random: RandomStream,
): PlannedStrike {
  const habit = EXCITERS[exciter];
  const first = { startS, contactS: random.within(habit.contactS), peakN: random.within(habit.peakN) };
  const pulses = [first];
  if (fault === 'double-blow') {
    const afterS = random.within(BOUNCE_AFTER_S[exciter]);
    pulses.push({ ...first, startS: startS + afterS, peakN: first.peakN * figure! });
  }
  const offLineDeg = fault === 'weak-plane' ? figure! : 45 + 6 * random.normalWithin(2);
  return { pulses, heightM: habit.heightM, offLineDeg, ringDownS, faults: [] };
}

function shiftFrequencies(pole: StruckPole, factor: number): StruckPole {
  const [a, b] = pole.planes.map((plane) => ({
    ...plane,
    frequenciesHz: plane.frequenciesHz.map((frequencyHz) => factor * frequencyHz),
  }));
  return { ...pole, planes: [a!, b!] };
}

interface Spoiling {
  readonly fault: CheckId | null;
  readonly figure: number | null;
  readonly startS: number;
  readonly sampleRateHz: number;
  readonly cornerHz: number;
  readonly peak: number;
  readonly range: number;
  readonly random: RandomStream;
}

/** What sensor, recorder and surroundings make of the movement. */
function spoil(clean: Float64Array, spoiling: Spoiling): Float64Array {
  const { fault, figure, startS, sampleRateHz, cornerHz, peak, range, random } = spoiling;
  const out = clean.slice();
  if (fault === 'rattle') addTaps(out, clean, figure!, spoiling);
  const keepHigh = Math.exp((-2 * Math.PI * cornerHz) / sampleRateHz);
  const noise = random.within(SENSOR_NOISE_M_PER_S2) + (fault === 'noise' ? figure! * peak : 0);
  const tremor = fault === 'low-band' ? figure! : random.within(TREMOR_M_PER_S2);
  const keepSlow = Math.exp((-2 * Math.PI * TREMOR_CORNER_HZ) / sampleRateHz);
  const drive = tremor * Math.sqrt(1 - keepSlow ** 2);
  const humHz = random.between(0, 1) < 0.5 ? 50 : 60;
  const humPhase = random.between(0, 2 * Math.PI);
  const sign = random.between(0, 1) < 0.5 ? -1 : 1;
  let slow = tremor * random.normal();
  let low = 0;
  for (let i = 0; i < out.length; i++) {
    const t = i / sampleRateHz;
    // High pass of first order: what a slow follower leaves.
    low = keepHigh * low + (1 - keepHigh) * out[i]!;
    slow = keepSlow * slow + drive * random.normal();
    let value = out[i]! - low + slow + noise * random.normal();
    if (fault === 'mains-hum') value += figure! * peak * Math.sin(2 * Math.PI * humHz * t + humPhase);
    if (fault === 'offset' && t > startS)
      value += sign * figure! * peak * Math.exp(-(t - startS) / SETTLING_S);
    out[i] = Math.max(-range, Math.min(range, value));
  }
  return out;
}

/** A loose strap taps at random as long as the pole shakes. */
function addTaps(into: Float64Array, clean: Float64Array, share: number, spoiling: Spoiling): void {
  const { startS, sampleRateHz, random } = spoiling;
  const length = Math.ceil(6 * RATTLE.decayS * sampleRateHz);
  const frequencyHz = random.within(RATTLE.frequencyHz);
  for (let tap = 0; tap < RATTLE.perS * RATTLE.lastsS; tap++) {
    const start = Math.round((startS + 0.02 + random.between(0, RATTLE.lastsS)) * sampleRateHz);
    const shaking = clean
      .subarray(start, start + Math.round(0.05 * sampleRateHz))
      .reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const size = share * shaking * random.between(0.3, 1);
    for (let i = 0; i < length && start + i < into.length; i++) {
      const t = i / sampleRateHz;
      into[start + i] =
        into[start + i]! + size * Math.exp(-t / RATTLE.decayS) * Math.cos(2 * Math.PI * frequencyHz * t);
    }
  }
}
