import { describe, expect, test } from 'vitest';
import { compareDamping, identifyModes } from '../../core/modal/index.ts';
import { makePlane, makeVisit } from './makeVisit.ts';

describe('compareDamping', () => {
  const planes = [makePlane(1), makePlane(1.3)];
  const strikes = makeVisit({
    planes,
    exciters: ['hammer', 'hammer', 'hand'],
    seed: 71,
    turnDeg: 5,
    durationS: 20,
  });
  const { candidates, turnDeg } = identifyModes(strikes);

  test('three roads agree on modes that ring alone for long', () => {
    for (const candidate of candidates.filter((c) => c.accepted && c.frequencyHz.value > 5)) {
      const { fit, decay, halfPower } = compareDamping(strikes, candidate, turnDeg.value);
      const truth = planes[candidate.plane]!.find(
        (mode) => Math.abs(mode.frequencyHz / candidate.frequencyHz.value - 1) < 0.02,
      )!.dampingRatio;
      expect(Math.abs(fit.value / truth - 1)).toBeLessThan(0.01);
      expect(Math.abs(decay!.value / truth - 1)).toBeLessThan(0.05);
      expect(Math.abs(halfPower! / truth - 1)).toBeLessThan(0.1);
    }
  });

  test('drift of the sensor does not pass for the damping of a first mode', () => {
    const drifting = makeVisit({
      planes,
      exciters: ['hand', 'hand'],
      seed: 73,
      durationS: 20,
      disturb: (_strike, _channel, t) => 0.2 * Math.exp(-t / 2.5) - 0.01 * t,
    });
    const first = {
      plane: 0,
      frequencyHz: { value: 1.9, sd: 0.01 },
      dampingRatio: { value: 0.02, sd: 0.001 },
    };
    const { decay, halfPower } = compareDamping(drifting, first, 0);
    expect(Math.abs(decay!.value / 0.02 - 1)).toBeLessThan(0.1);
    expect(Math.abs(halfPower! / 0.02 - 1)).toBeLessThan(0.1);
  });

  test('says nothing where the record has too few swings', () => {
    const short = makeVisit({ planes, exciters: ['hand'], seed: 72, durationS: 3 });
    const first = {
      plane: 0,
      frequencyHz: { value: 1.9, sd: 0.01 },
      dampingRatio: { value: 0.02, sd: 0.001 },
    };
    expect(compareDamping(short, first, 0).decay).toBeNull();
  });
});
