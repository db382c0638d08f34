import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { fitPoles } from '../../core/modal/index.ts';
import { makeBand } from './makeBand.ts';
import { createNormal, createUniform, type DecayPart, makeDecay } from './makeDecay.ts';

const RATE_HZ = 500;
const COUNT = 4000;
const FIRST: DecayPart = { frequencyHz: 2.1, dampingRatio: 0.015, amplitude: 1, phase: 0.3 };
const SECOND: DecayPart = { frequencyHz: 14.3, dampingRatio: 0.012, amplitude: 3, phase: 1 };
const THIRD: DecayPart = { frequencyHz: 42, dampingRatio: 0.02, amplitude: 2, phase: -2 };

describe('fitPoles without noise', () => {
  test.each([
    ['first', FIRST, 0.9, 3.3],
    ['second', SECOND, 12.5, 16],
    ['third', THIRD, 38, 46],
  ] as const)('finds the %s mode beside the others to 1e-6', (_, part, lowHz, highHz) => {
    const samples = makeDecay(COUNT, RATE_HZ, [FIRST, SECOND, THIRD]);
    const { poles, converged } = fitPoles(makeBand([samples], RATE_HZ, lowHz, highHz), 1);
    expect(converged).toBe(true);
    expect(Math.abs(poles[0]!.frequencyHz.value / part.frequencyHz - 1)).toBeLessThan(2e-6);
    expect(Math.abs(poles[0]!.dampingRatio.value / part.dampingRatio - 1)).toBeLessThan(1e-4);
  });

  test('is exact for one decay, however early it is cut off', () => {
    for (const count of [512, 1024, 8192]) {
      const samples = makeDecay(count, RATE_HZ, [{ ...SECOND, dampingRatio: 0.002 }]);
      const [pole] = fitPoles(makeBand([samples], RATE_HZ, 5, 24), 1).poles;
      expect(Math.abs(pole!.frequencyHz.value / SECOND.frequencyHz - 1)).toBeLessThan(1e-9);
      expect(Math.abs(pole!.dampingRatio.value / 0.002 - 1)).toBeLessThan(1e-6);
    }
  });

  test('takes a drift of the sensor for what it is', () => {
    const samples = makeDecay(COUNT, RATE_HZ, [{ ...FIRST, frequencyHz: 1.1 }]).map(
      (value, i) => value + 2 + 3 * (i / COUNT) - 4 * (i / COUNT) ** 2,
    );
    const [pole] = fitPoles(makeBand([samples], RATE_HZ, 0.25, 2), 1).poles;
    expect(Math.abs(pole!.frequencyHz.value / 1.1 - 1)).toBeLessThan(1e-6);
  });

  test.each([0.003, 0.01, 0.05])('parts two planes that differ by %f, mixed in both channels', (apart) => {
    const other = { ...SECOND, frequencyHz: SECOND.frequencyHz * (1 + apart), dampingRatio: 0.014 };
    const turned = (a: number, b: number) =>
      makeDecay(COUNT, RATE_HZ, [
        { ...SECOND, amplitude: a },
        { ...other, amplitude: b },
      ]);
    const { poles } = fitPoles(makeBand([turned(1, 0.3), turned(-0.3, 1)], RATE_HZ, 12.5, 16.5), 2);
    const found = poles.map((pole) => pole.frequencyHz.value).sort((a, b) => a - b);
    expect(Math.abs(found[0]! / SECOND.frequencyHz - 1)).toBeLessThan(1e-6);
    expect(Math.abs(found[1]! / other.frequencyHz - 1)).toBeLessThan(1e-6);
  });

  test('describes a steady tone as one that does not decay', () => {
    const samples = makeDecay(COUNT, RATE_HZ, [
      { frequencyHz: 50.02, dampingRatio: 0, amplitude: 1, phase: 0 },
    ]);
    const [pole] = fitPoles(makeBand([samples], RATE_HZ, 47, 53), 1).poles;
    expect(pole!.frequencyHz.value).toBeCloseTo(50.02, 6);
    expect(Math.abs(pole!.dampingRatio.value)).toBeLessThan(1e-7);
  });

  test('with no poles leaves all to the background', () => {
    const fit = fitPoles(makeBand([makeDecay(COUNT, RATE_HZ, [SECOND])], RATE_HZ, 12, 16), 0);
    expect(fit.poles).toEqual([]);
    expect(fit.noise[0]).toBeGreaterThan(0);
  });
});

/**
 * Least standard deviations of frequency and damping ratio that any unbiased estimate from the samples can
 * have: inverse of the Fisher matrix of a decaying cosine of unknown amplitude, phase, frequency and damping
 * in white noise, summed over the samples by the closed-form derivatives (the bound of Yao & Pandit, IEEE
 * Trans. Signal Process. 43, 1995, 878-885).
 */
function computeCramerRao(
  part: DecayPart,
  noiseSd: number,
  count = COUNT,
): { frequencyHz: number; dampingRatio: number } {
  const { frequencyHz, dampingRatio: zeta, amplitude, phase } = part;
  const omega = 2 * Math.PI * frequencyHz;
  const root = Math.sqrt(1 - zeta ** 2);
  const fisher = Matrix.zeros(4, 4);
  for (let i = 0; i < count; i++) {
    const t = i / RATE_HZ;
    const envelope = Math.exp(-zeta * omega * t);
    const cos = envelope * Math.cos(omega * root * t + phase);
    const sin = envelope * Math.sin(omega * root * t + phase);
    const slopes = [
      cos,
      -amplitude * sin,
      amplitude * 2 * Math.PI * t * (-zeta * cos - root * sin),
      amplitude * omega * t * (-cos + (zeta / root) * sin),
    ];
    for (let a = 0; a < 4; a++) {
      for (let b = 0; b < 4; b++)
        fisher.set(a, b, fisher.get(a, b) + (slopes[a]! * slopes[b]!) / noiseSd ** 2);
    }
  }
  const bound = inverse(fisher);
  return { frequencyHz: Math.sqrt(bound.get(2, 2)), dampingRatio: Math.sqrt(bound.get(3, 3)) };
}

const TRIALS = 400;
/** A ring-down that the recorder lost, in time constants, and how often it is tried. */
const CUT_AFTER = 0.6;
const SHORT_TRIALS = 150;
/**
 * 95 % intervals over 400 trials: 90 to 97 % allows for small bands and for chance (standard error 1.1 %).
 */
const LEAST_COVERAGE = 0.9;
const MOST_COVERAGE = 0.975;

describe('fitPoles in noise', () => {
  test.each([
    { part: FIRST, decibels: 20, lowHz: 0.9, highHz: 3.3 },
    { part: FIRST, decibels: 40, lowHz: 0.9, highHz: 3.3 },
    { part: SECOND, decibels: 20, lowHz: 12, highHz: 16.6 },
    { part: THIRD, decibels: 30, lowHz: 34, highHz: 50 },
  ])(
    '$part.frequencyHz Hz at $decibels dB: unbiased, honest and near the bound of Cramer and Rao',
    (setting) => {
      const { part, decibels, lowHz, highHz } = setting;
      const noiseSd = part.amplitude / 10 ** (decibels / 20);
      const normal = createNormal(decibels);
      const uniform = createUniform(decibels);
      const errors = { frequencyHz: [] as number[], dampingRatio: [] as number[] };
      const inside = { frequencyHz: 0, dampingRatio: 0 };
      for (let trial = 0; trial < TRIALS; trial++) {
        const truth = { ...part, phase: 2 * Math.PI * uniform() };
        const samples = makeDecay(COUNT, RATE_HZ, [truth], { sd: noiseSd, normal });
        const [pole] = fitPoles(makeBand([samples], RATE_HZ, lowHz, highHz), 1).poles;
        for (const quantity of ['frequencyHz', 'dampingRatio'] as const) {
          const error = pole![quantity].value - part[quantity];
          errors[quantity].push(error);
          if (Math.abs(error) < 1.96 * pole![quantity].sd) inside[quantity]++;
        }
      }
      const bound = computeCramerRao(part, noiseSd);
      for (const quantity of ['frequencyHz', 'dampingRatio'] as const) {
        const mean = errors[quantity].reduce((a, b) => a + b) / TRIALS;
        const scatter = Math.sqrt(errors[quantity].reduce((a, b) => a + (b - mean) ** 2, 0) / (TRIALS - 1));
        expect(inside[quantity] / TRIALS).toBeGreaterThan(LEAST_COVERAGE);
        expect(inside[quantity] / TRIALS).toBeLessThan(MOST_COVERAGE);
        // the mean of 400 has a standard error of a twentieth
        expect(Math.abs(mean)).toBeLessThan(0.2 * scatter);
        // 0.9: chance; 1.5: the bound knows that there is no background and sees all lines
        expect(scatter / bound[quantity]).toBeGreaterThan(0.9);
        expect(scatter / bound[quantity]).toBeLessThan(1.5);
      }
    },
  );

  test('of a record cut short within a time constant: a frequency holds, with an error a little larger than stated', () => {
    const normal = createNormal(6);
    const uniform = createUniform(6);
    const { frequencyHz, dampingRatio } = FIRST;
    const count = Math.round((CUT_AFTER * RATE_HZ) / (2 * Math.PI * dampingRatio * frequencyHz));
    const errors: number[] = [];
    const stated: number[] = [];
    for (let trial = 0; trial < SHORT_TRIALS; trial++) {
      const truth = { ...FIRST, phase: 2 * Math.PI * uniform() };
      const samples = makeDecay(count, RATE_HZ, [truth], { sd: 0.1 * FIRST.amplitude, normal });
      const [pole] = fitPoles(makeBand([samples], RATE_HZ, 0.9, 3.3), 1).poles;
      errors.push(pole!.frequencyHz.value / frequencyHz - 1);
      stated.push(pole!.frequencyHz.sd / frequencyHz);
    }
    const scatter = Math.sqrt(errors.reduce((sum, error) => sum + error ** 2, 0) / SHORT_TRIALS);
    // at one phase of those that are drawn
    const bound = computeCramerRao(FIRST, 0.1 * FIRST.amplitude, count).frequencyHz / frequencyHz;
    expect(scatter / bound).toBeGreaterThan(0.8);
    expect(scatter / bound).toBeLessThan(1.5);
    // bounds of ours: far below what a model of the pole leaves open, which is per cents
    expect(scatter).toBeLessThan(0.005);
    expect(scatter / stated.toSorted((a, b) => a - b)[SHORT_TRIALS >> 1]!).toBeLessThan(1.5);
  });
});
