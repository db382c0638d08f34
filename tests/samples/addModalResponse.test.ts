/**
 * The closed form of one mode's answer to a half-sine blow against numerical integration (Runge-Kutta of fourth
 * order, a textbook method) and against the residual amplitude of the half-sine shock spectrum,
 * 4 b |cos(pi b)| / |1 - 4 b^2| with b = contact / period (Chopra, Dynamics of Structures, from memory).
 */
import { describe, expect, test } from 'vitest';
import { addModalResponse } from '../../samples/simulator/index.ts';

const SAMPLE_RATE_HZ = 2000;

function integrate(
  frequencyHz: number,
  dampingRatio: number,
  startS: number,
  contactS: number,
  samples: number,
): number[] {
  const omega = 2 * Math.PI * frequencyHz;
  const force = (t: number): number => (t >= 0 && t <= contactS ? Math.sin((Math.PI * t) / contactS) : 0);
  const accelerate = (t: number, x: number, v: number): number =>
    force(t) - 2 * dampingRatio * omega * v - omega * omega * x;
  // Whole steps lie on the sample times and on both ends of the blow, where the force has corners.
  const stepsPerSample = 40;
  const h = 1 / (SAMPLE_RATE_HZ * stepsPerSample);
  let [x, v] = [0, 0];
  const out: number[] = [];
  for (let step = 0; out.length < samples; step++) {
    const t = step * h - startS;
    if (step % stepsPerSample === 0) out.push(accelerate(t, x, v));
    const [k1x, k1v] = [v, accelerate(t, x, v)];
    const [k2x, k2v] = [v + (h / 2) * k1v, accelerate(t + h / 2, x + (h / 2) * k1x, v + (h / 2) * k1v)];
    const [k3x, k3v] = [v + (h / 2) * k2v, accelerate(t + h / 2, x + (h / 2) * k2x, v + (h / 2) * k2v)];
    const [k4x, k4v] = [v + h * k3v, accelerate(t + h, x + h * k3x, v + h * k3v)];
    x += (h / 6) * (k1x + 2 * k2x + 2 * k3x + k4x);
    v += (h / 6) * (k1v + 2 * k2v + 2 * k3v + k4v);
  }
  return out;
}

describe('addModalResponse', () => {
  test.each([
    [2.5, 0.02, 0.005],
    [13, 0.015, 0.005],
    [110, 0.01, 0.03],
  ])('%f Hz, damping %f, contact %f s', (frequencyHz, dampingRatio, contactS) => {
    const samples = 1000;
    const startS = 0.050125; // a quarter sample after a sample
    const made = new Float64Array(samples);
    addModalResponse(
      made,
      SAMPLE_RATE_HZ,
      { frequencyHz, dampingRatio, gainPerKg: 1 },
      { startS, contactS, peakN: 1 },
    );
    const wanted = integrate(frequencyHz, dampingRatio, startS, contactS, samples);
    const size = Math.max(...wanted.map(Math.abs));
    const worst = Math.max(...wanted.map((value, i) => Math.abs(value - made[i]!)));
    // Runge-Kutta at 80 kHz leaves (omega h)^4 times some 100 periods; 1e-6 of the largest value covers it.
    expect(worst / size).toBeLessThan(1e-6);
  });

  test('leaves the residual amplitude of the half-sine shock spectrum', () => {
    const frequencyHz = 20;
    const contactS = 0.03;
    const made = new Float64Array(4000);
    addModalResponse(
      made,
      SAMPLE_RATE_HZ,
      { frequencyHz, dampingRatio: 1e-9, gainPerKg: 1 },
      { startS: 0, contactS, peakN: 1 },
    );
    const share = contactS * frequencyHz;
    const wanted = (4 * share * Math.abs(Math.cos(Math.PI * share))) / Math.abs(1 - 4 * share * share);
    const largest = made.subarray(200).reduce((peak, value) => Math.max(peak, Math.abs(value)), 0);
    // 100 samples a period miss the crest by up to 1 - cos(pi/100), 5e-4.
    expect(Math.abs(largest / wanted - 1)).toBeLessThan(1e-3);
  });

  test('adds to what is there and is quiet before the blow', () => {
    const made = new Float64Array(100).fill(7);
    addModalResponse(
      made,
      SAMPLE_RATE_HZ,
      { frequencyHz: 5, dampingRatio: 0.02, gainPerKg: 1 },
      { startS: 0.02, contactS: 0.005, peakN: 1 },
    );
    expect(made[40]).toBe(7);
    expect(made[45]).not.toBe(7);
  });
});
