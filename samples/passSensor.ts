import type { FaultId } from './faults.ts';
import type { PlannedStrike } from './planStrikes.ts';
import type { RandomStream } from './random.ts';

/** What the sensor and recorder make of the movement. */
export interface SensorChain {
  readonly sampleRateHz: number;
  readonly cornerHz: number;
  readonly fullScaleMPerS2: number;
}

/** Electronic noise over the whole band and slow movement by wind and traffic, as standard deviations. */
const NOISE_MPER_S2 = 0.002;
const TREMOR_M_PER_S2 = 0.001;
const TREMOR_CORNER_HZ = 0.6;
/** A lorry idles beside the pole, or the gain is far too low. */
const LOW_LEVEL_NOISE = 80;
const LOW_LEVEL_NOISE_HOPELESS = 200;
/** Wind: the slow movement hides what little mode 1 the blow made. */
const LOW_BAND_TREMOR = 20;
const HUM = { frequencyHz: 50, thirdShare: 0.4, shareOfPeak: 0.03 } as const;
const RATTLE = { lastsS: 2.5, perS: 45, frequencyShareOfRate: 0.23, decayS: 0.004, share: 0.5 } as const;
const DRIFT = { offsetShare: 0.012, stepShare: 0.03, decayS: 2.5 } as const;

/**
 * Turns the strikes' acceleration at one axis into what the recorder keeps, before quantisation:
 * high pass of first order, rattle, noise, hum, drift, then the limit of the full scale.
 */
export function passSensor(
  clean: Float64Array,
  strikes: readonly PlannedStrike[],
  chain: SensorChain,
  hopeless: boolean,
  random: RandomStream,
): Float64Array {
  const faults = new Set<FaultId>(strikes.flatMap((strike) => strike.faults));
  const lowLevel = faults.has('noise');
  const noise = NOISE_MPER_S2 * (lowLevel ? (hopeless ? LOW_LEVEL_NOISE_HOPELESS : LOW_LEVEL_NOISE) : 1);
  const tremor =
    TREMOR_M_PER_S2 *
    (lowLevel && hopeless ? LOW_LEVEL_NOISE_HOPELESS : faults.has('low-band') ? LOW_BAND_TREMOR : 1);
  const kept = Float64Array.from(clean);
  if (faults.has('rattle')) addRattle(kept, strikes, chain.sampleRateHz, random);
  highPass(kept, chain);
  addNoise(kept, noise, tremor, chain.sampleRateHz, random);
  if (faults.has('mains-hum')) addHum(kept, findPeak(clean), chain.sampleRateHz, random);
  if (faults.has('offset')) addDrift(kept, strikes, chain, random);
  for (let i = 0; i < kept.length; i++) {
    kept[i] = Math.max(-chain.fullScaleMPerS2, Math.min(chain.fullScaleMPerS2, kept[i]!));
  }
  return kept;
}

/** Finds the largest magnitude. */
export function findPeak(values: Float64Array): number {
  let peak = 0;
  for (const value of values) peak = Math.max(peak, Math.abs(value));
  return peak;
}

/** First order, by the bilinear transform with the corner kept in place. */
function highPass(values: Float64Array, chain: SensorChain): void {
  const tangent = Math.tan((Math.PI * chain.cornerHz) / chain.sampleRateHz);
  const feedback = (1 - tangent) / (1 + tangent);
  const forward = 1 / (1 + tangent);
  let lastIn = 0;
  let lastOut = 0;
  for (let i = 0; i < values.length; i++) {
    const input = values[i]!;
    lastOut = feedback * lastOut + forward * (input - lastIn);
    lastIn = input;
    values[i] = lastOut;
  }
}

function addNoise(
  values: Float64Array,
  noise: number,
  tremor: number,
  sampleRateHz: number,
  random: RandomStream,
): void {
  const keep = Math.exp((-2 * Math.PI * TREMOR_CORNER_HZ) / sampleRateHz);
  const drive = tremor * Math.sqrt(1 - keep * keep);
  let slow = tremor * random.normal();
  for (let i = 0; i < values.length; i++) {
    slow = keep * slow + drive * random.normal();
    values[i]! += slow + noise * random.normal();
  }
}

function addHum(values: Float64Array, peak: number, sampleRateHz: number, random: RandomStream): void {
  const turn = (2 * Math.PI * HUM.frequencyHz) / sampleRateHz;
  const phase = random.between(0, 2 * Math.PI);
  for (let i = 0; i < values.length; i++) {
    values[i]! +=
      HUM.shareOfPeak *
      peak *
      (Math.sin(turn * i + phase) + HUM.thirdShare * Math.sin(3 * (turn * i + phase)));
  }
}

/** A loose strap: after each blow the sensor taps the pole at random, as long as it shakes. */
function addRattle(
  values: Float64Array,
  strikes: readonly PlannedStrike[],
  sampleRateHz: number,
  random: RandomStream,
): void {
  const quiet = Float64Array.from(values);
  const tapSamples = Math.ceil(6 * RATTLE.decayS * sampleRateHz);
  for (const strike of strikes) {
    if (!strike.faults.includes('rattle')) continue;
    for (let tap = 0; tap < RATTLE.perS * RATTLE.lastsS; tap++) {
      const startS = strike.pulses[0]!.startS + 0.02 + random.between(0, RATTLE.lastsS);
      const start = Math.round(startS * sampleRateHz);
      const shaking = findPeak(quiet.subarray(start, start + Math.round(0.05 * sampleRateHz)));
      const size = RATTLE.share * (shaking + 0.2) * random.between(0.3, 1);
      for (let i = 0; i < tapSamples && start + i < values.length; i++) {
        values[start + i]! +=
          size *
          Math.exp(-i / (RATTLE.decayS * sampleRateHz)) *
          Math.cos(2 * Math.PI * RATTLE.frequencyShareOfRate * i);
      }
    }
  }
}

function addDrift(
  values: Float64Array,
  strikes: readonly PlannedStrike[],
  chain: SensorChain,
  random: RandomStream,
): void {
  const offset = DRIFT.offsetShare * chain.fullScaleMPerS2 * (random.between(0, 1) < 0.5 ? -1 : 1);
  for (let i = 0; i < values.length; i++) {
    let value = offset * (1 + i / values.length);
    for (const strike of strikes) {
      const sinceS = i / chain.sampleRateHz - strike.pulses[0]!.startS;
      if (sinceS > 0) value += DRIFT.stepShare * chain.fullScaleMPerS2 * Math.exp(-sinceS / DRIFT.decayS);
    }
    values[i]! += value;
  }
}
