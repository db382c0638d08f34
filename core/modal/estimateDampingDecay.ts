import { InputError } from '../errors.ts';
import type { MeasuredValue } from './strikeSegment.ts';

export interface DecayDamping {
  /** Undamped natural frequency. */
  readonly frequencyHz: number;
  /** Natural logarithm of the ratio of successive maxima. */
  readonly logDecrement: number;
  readonly dampingRatio: MeasuredValue;
}

export interface DecayOptions {
  readonly sampleRateHz: number;
  /** Frequency of the mode, as from a spectrum. */
  readonly nearHz: number;
}

/** Periods over which the envelope is averaged: enough to part modes whose frequencies differ by half. */
const AVERAGED_PERIODS = 4;
const FEWEST_READINGS = 4;

/**
 * Estimates damping from the envelope of a ring-down, for comparison with the parametric fit: the samples are
 * shifted down by `nearHz`, averaged under a Hann window of four periods, and the logarithm of the envelope
 * and its phase are fitted by straight lines, each reading weighted by its power (the variance of a logarithm
 * goes as one over it). The decrement is 2 pi zeta / sqrt(1 - zeta^2). The standard deviation is that of the
 * regression, with half-overlapping readings counted as independent.
 * @param samples - starts after the contact; at least ten periods long
 * @throws InputError `modal.decay` for fewer
 */
export function estimateDampingDecay(samples: Float64Array, options: DecayOptions): DecayDamping {
  const { sampleRateHz, nearHz } = options;
  const width = Math.round((AVERAGED_PERIODS * sampleRateHz) / nearHz);
  const hop = Math.max(1, width >> 1);
  const readings = Math.floor((samples.length - width) / hop) + 1;
  if (!(nearHz > 0) || !(readings >= FEWEST_READINGS)) {
    throw new InputError(
      'modal.decay',
      `The ring-down has ${samples.length} samples at ${sampleRateHz} Hz, ${((samples.length * nearHz) / sampleRateHz).toFixed(1)} periods of ${nearHz} Hz; at least ten are expected.`,
      'Take a longer ring-down, or a mode of higher frequency.',
    );
  }
  const times = new Float64Array(readings);
  const logs = new Float64Array(readings);
  const phases = new Float64Array(readings);
  const weights = new Float64Array(readings);
  const angular = (2 * Math.PI * nearHz) / sampleRateHz;
  for (let r = 0; r < readings; r++) {
    let re = 0;
    let im = 0;
    for (let i = 0; i < width; i++) {
      const n = r * hop + i;
      const weighted = samples[n]! * Math.sin((Math.PI * (i + 0.5)) / width) ** 2;
      re += weighted * Math.cos(angular * n);
      im -= weighted * Math.sin(angular * n);
    }
    times[r] = (r * hop) / sampleRateHz;
    weights[r] = re * re + im * im;
    logs[r] = Math.log(weights[r]!) / 2;
    const phase = Math.atan2(im, re);
    const turn = r === 0 ? 0 : Math.round((phases[r - 1]! - phase) / (2 * Math.PI));
    phases[r] = phase + 2 * Math.PI * turn;
  }
  const decay = fitLine(times, logs, weights);
  const decayRate = -decay.slope;
  const damped = 2 * Math.PI * nearHz + fitLine(times, phases, weights).slope;
  const natural = Math.hypot(decayRate, damped);
  return {
    frequencyHz: natural / (2 * Math.PI),
    logDecrement: (2 * Math.PI * decayRate) / damped,
    dampingRatio: { value: decayRate / natural, sd: decay.sd / natural },
  };
}

function fitLine(x: Float64Array, y: Float64Array, weights: Float64Array): { slope: number; sd: number } {
  let total = 0;
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < x.length; i++) {
    total += weights[i]!;
    meanX += weights[i]! * x[i]!;
    meanY += weights[i]! * y[i]!;
  }
  meanX /= total;
  meanY /= total;
  let spread = 0;
  let product = 0;
  for (let i = 0; i < x.length; i++) {
    spread += weights[i]! * (x[i]! - meanX) ** 2;
    product += weights[i]! * (x[i]! - meanX) * (y[i]! - meanY);
  }
  const slope = product / spread;
  let squares = 0;
  for (let i = 0; i < x.length; i++) squares += weights[i]! * (y[i]! - meanY - slope * (x[i]! - meanX)) ** 2;
  return { slope, sd: Math.sqrt(squares / (x.length - 2) / spread) };
}
