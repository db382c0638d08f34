/**
 * A small fixed part of bench/modesStudy.ts. Bounds follow from its goals: medians and percentiles with room for
 * fewer strikes, coverage of 95 % intervals with three standard deviations of a share of so many modes, six of
 * which share a strike and its turn.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { identifyModes } from '../../core/modal/index.ts';
import { type ScoredMode, scoreStrike, summarise } from './scoreStudy.ts';
import { boundDecay, simulateStudyStrike } from './simulateStudy.ts';

const STRIKES = 80;
const FIRST_SEED = 20_001;
const LEAST_SNR_DB = 10;

describe('80 simulated strikes, each alone', () => {
  const modes: ScoredMode[] = [];
  let proposals = 0;
  let falseModes = 0;

  beforeAll(() => {
    for (let seed = FIRST_SEED; seed < FIRST_SEED + STRIKES; seed++) {
      const strike = simulateStudyStrike(seed);
      const scored = scoreStrike(strike, identifyModes([strike.segment]).candidates);
      modes.push(...scored.modes.filter(({ truth }) => truth.snrDb >= LEAST_SNR_DB));
      proposals += scored.proposals;
      falseModes += scored.falseModes.length;
    }
  }, 60_000);

  test('frequencies are read to 0.05 % in the median and 0.5 % in 95 of 100', () => {
    const { frequencyMedian, frequency95, foundShare } = summarise(modes);
    expect(modes.length).toBeGreaterThan(300);
    expect(foundShare).toBeGreaterThan(0.9);
    expect(frequencyMedian).toBeLessThan(0.0005);
    expect(frequency95).toBeLessThan(0.005);
  });

  test('damping is read to 5 % in the median', () => {
    expect(summarise(modes).dampingMedian).toBeLessThan(0.05);
  });

  test('intervals of 95 % hold the truth about as often as they say', () => {
    const { frequencyCoverage, dampingCoverage } = summarise(modes);
    for (const coverage of [frequencyCoverage, dampingCoverage]) {
      expect(coverage).toBeGreaterThan(0.9);
      expect(coverage).toBeLessThan(0.995);
    }
  });

  test('fewer than 2 of 100 proposals are no mode', () => {
    expect(proposals).toBeGreaterThan(300);
    expect(falseModes / proposals).toBeLessThan(0.02);
  });

  test('errors of faint modes stay within twice the bound of Cramer and Rao, and are not below it', () => {
    const faint = modes.filter(({ truth }) => truth.snrDb < 30);
    const { frequencyOverBound, dampingOverBound } = summarise(faint);
    for (const ratio of [frequencyOverBound, dampingOverBound]) {
      expect(ratio).toBeGreaterThan(0.9);
      expect(ratio).toBeLessThan(2.2);
    }
  });
});

test('the bound nears its closed form for a decay that ends in the record', () => {
  const mode = { plane: 0, number: 1, frequencyHz: 10, dampingRatio: 0.01, amplitude: 1, snrDb: 40 };
  // envelope exp(-alpha t), power exp(-2 alpha t): second moment about its mean is 1 / (4 alpha^2) of its energy
  const alpha = 0.01 * 2 * Math.PI * 10;
  const energy = 1000 / (2 * alpha);
  const sd = 1 / Math.sqrt(((100 * 100) / 2) * energy * (1 / (4 * alpha * alpha))) / (2 * Math.PI * 10);
  expect(boundDecay(mode, 60).frequency / sd).toBeCloseTo(1, 2);
});
