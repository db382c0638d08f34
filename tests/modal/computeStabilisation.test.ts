import { describe, expect, test } from 'vitest';
import { computeStabilisation } from '../../core/modal/index.ts';
import { makePlane, makeVisit } from './makeVisit.ts';

const FOUR = ['hammer', 'hammer', 'hand', 'hand'] as const;

describe('computeStabilisation', () => {
  test('is empty without strikes', () => {
    expect(computeStabilisation([])).toMatchObject({ orders: [], poles: [], clusters: [] });
  });

  const planes = [makePlane(1), makePlane(1.02)];
  const diagram = computeStabilisation(makeVisit({ planes, exciters: FOUR, seed: 31, turnDeg: 4 }));

  test('has a cluster in the right plane for each of six modes, and no other', () => {
    const truth = planes.flatMap((modes, plane) => modes.map((mode) => ({ ...mode, plane })));
    expect(diagram.clusters).toHaveLength(truth.length);
    for (const { frequencyHz, dampingRatio, plane } of truth) {
      const own = diagram.clusters.find(
        (c) => c.plane === plane && Math.abs(c.frequencyHz / frequencyHz - 1) < 0.004,
      );
      expect(own, `${frequencyHz} Hz in plane ${plane}`).toBeDefined();
      expect(own!.planeShares[plane]!).toBeGreaterThan(0.8);
      // linear least squares lean to low damping in noise: a witness, not a measure
      expect(Math.abs(own!.dampingRatio / dampingRatio - 1)).toBeLessThan(0.3);
      expect(own!.orders).toBeGreaterThanOrEqual(6);
      expect(own!.standing).toBeGreaterThan(0.7);
    }
  });

  test('gives poles that decay, with shares that add up, and a status that says what they keep', () => {
    expect(diagram.poles.length).toBeGreaterThan(60);
    for (const { dampingRatio, planeShares, order } of diagram.poles) {
      expect(dampingRatio).toBeGreaterThan(0);
      expect(planeShares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10);
      expect(diagram.orders).toContain(order);
    }
    const near = diagram.poles.filter(({ frequencyHz }) => Math.abs(frequencyHz - 10.4) < 0.05);
    expect(near.some(({ status }) => status === 'holds')).toBe(true);
    expect(diagram.poles.some(({ status }) => status === 'new')).toBe(true);
  });

  test('shows the level of both planes, highest 0 dB, with peaks at the modes', () => {
    const { frequenciesHz, planes: levels } = diagram.indicator;
    expect(levels).toHaveLength(2);
    expect(Math.max(...levels.flat())).toBe(0);
    const best = levels[0]!.indexOf(Math.max(...levels[0]!));
    expect(planes[0]!.some(({ frequencyHz }) => Math.abs(frequencyHz - frequenciesHz[best]!) < 0.3)).toBe(
      true,
    );
  });

  test('has no cluster in noise', () => {
    let clusters = 0;
    for (let seed = 200; seed < 206; seed++) {
      clusters += computeStabilisation(makeVisit({ planes: [[], []], exciters: FOUR, seed })).clusters.length;
    }
    expect(clusters).toBeLessThanOrEqual(1);
  });

  test('is the same twice', () => {
    const strikes = makeVisit({ planes, exciters: FOUR, seed: 31, turnDeg: 4 });
    expect(computeStabilisation(strikes)).toEqual(diagram);
  });
});
