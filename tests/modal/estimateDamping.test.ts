import { describe, expect, test } from 'vitest';
import { InputError } from '../../core/errors.ts';
import { estimateDampingDecay, estimateDampingHalfPower } from '../../core/modal/index.ts';
import { readReferenceTable } from '../reference/readReferenceTable.ts';
import { createNormal, makeDecay } from './makeDecay.ts';

/**
 * Relations between damping ratio, logarithmic decrement and half-power width in closed form
 * (damping-relations.csv; any textbook of vibration, for instance Thomson & Dahleh, Theory of Vibration, ch.
 * 2 and 3). The table has six to eight digits.
 */
const relations = readReferenceTable('damping-relations.csv').map((row) => ({
  zeta: Number(row.zeta),
  logDecrement: Number(row.logdec),
  onDisplacement: Number(row.hp_disp),
  onAcceleration: Number(row.hp_accel),
  dampedOverNatural: Number(row['fd/fn']),
}));

describe('estimateDampingDecay', () => {
  test.each(relations.filter(({ zeta }) => zeta <= 0.05))(
    'reads $zeta from a decay built by its decrement',
    (row) => {
      const dampedHz = 2;
      const samples = Float64Array.from({ length: 20_000 }, (_, i) => {
        const periods = (i / 1000) * dampedHz;
        return Math.exp(-row.logDecrement * periods) * Math.cos(2 * Math.PI * periods);
      });
      const { dampingRatio, logDecrement, frequencyHz } = estimateDampingDecay(samples, {
        sampleRateHz: 1000,
        nearHz: 2.02,
      });
      // the mirror frequency leaks through the average by a part in a thousand at the highest damping
      expect(Math.abs(dampingRatio.value / row.zeta - 1)).toBeLessThan(2e-3);
      expect(Math.abs(logDecrement / row.logDecrement - 1)).toBeLessThan(2e-3);
      expect(Math.abs(frequencyHz / (dampedHz / row.dampedOverNatural) - 1)).toBeLessThan(1e-4);
    },
  );

  test('holds the truth within four standard deviations in noise, with another mode above', () => {
    const parts = [
      { frequencyHz: 3, dampingRatio: 0.015, amplitude: 1, phase: 0 },
      { frequencyHz: 18, dampingRatio: 0.012, amplitude: 2, phase: 1 },
    ];
    const samples = makeDecay(8000, 1000, parts, { sd: 0.05, normal: createNormal(5) });
    const { dampingRatio } = estimateDampingDecay(samples, { sampleRateHz: 1000, nearHz: 3 });
    expect(Math.abs(dampingRatio.value - 0.015)).toBeLessThan(4 * dampingRatio.sd);
    expect(dampingRatio.sd).toBeLessThan(0.0015);
  });

  test('wants ten periods', () => {
    expect(() => estimateDampingDecay(new Float64Array(4000), { sampleRateHz: 1000, nearHz: 1 })).toThrow(
      InputError,
    );
    expect(() => estimateDampingDecay(new Float64Array(4000), { sampleRateHz: 1000, nearHz: 1 })).toThrow(
      /4.0 periods/,
    );
  });
});

/**
 * Amplitude of a single degree of freedom at a frequency over its natural one, for displacement or
 * acceleration.
 */
function respond(ratio: number, zeta: number, order: 0 | 2): number {
  return ratio ** order / Math.hypot(1 - ratio ** 2, 2 * zeta * ratio);
}

describe('estimateDampingHalfPower', () => {
  const frequenciesHz = Float64Array.from({ length: 60_000 }, (_, k) => 0.2 + k * 3e-5);

  test.each(relations)(
    'reads the width at half power of $zeta as tabled',
    ({ zeta, onDisplacement, onAcceleration }) => {
      for (const [order, wanted] of [
        [0, onDisplacement],
        [2, onAcceleration],
      ] as const) {
        const amplitudes = frequenciesHz.map((f) => respond(f, zeta, order));
        const found = estimateDampingHalfPower(frequenciesHz, amplitudes, 1);
        // lines lie 3e-5 apart: a thirtieth of the half width at the least damping
        expect(Math.abs(found!.dampingRatio / wanted - 1)).toBeLessThan(1e-3);
      }
    },
  );

  test('has no answer where a flank is missing', () => {
    expect(estimateDampingHalfPower(Float64Array.of(1, 2, 3), Float64Array.of(1, 1.1, 1), 2)).toBeNull();
  });
});
