import { describe, expect, test } from 'vitest';
import { InputError } from '../../core/errors.ts';
import { identifyModes, type ModeCandidate, refineMode } from '../../core/modal/index.ts';
import { type ModeTruth, makePlane, makeVisit } from './makeVisit.ts';

const FOUR = ['hammer', 'hammer', 'hand', 'hand'] as const;
/** Goal of accuracy for a mode that stands clear of the noise. */
const RELATIVE_ERROR = 1e-3;

function accepted(candidates: readonly ModeCandidate[], plane: number): ModeCandidate[] {
  return candidates.filter((candidate) => candidate.accepted && candidate.plane === plane);
}

function expectModes(found: readonly ModeCandidate[], truth: readonly ModeTruth[]): void {
  expect(found.map((candidate) => candidate.frequencyHz.value.toFixed(1))).toEqual(
    truth.map((mode) => mode.frequencyHz.toFixed(1)),
  );
  truth.forEach((mode, i) => {
    const { frequencyHz, dampingRatio } = found[i]!;
    expect(Math.abs(frequencyHz.value / mode.frequencyHz - 1)).toBeLessThan(RELATIVE_ERROR);
    expect(Math.abs(frequencyHz.value - mode.frequencyHz)).toBeLessThan(3.5 * frequencyHz.sd);
    expect(Math.abs(dampingRatio.value - mode.dampingRatio)).toBeLessThan(3.5 * dampingRatio.sd);
  });
}

/** High pass of first order, as a sensor's charge amplifier makes it, at rest before the blow. */
function passHigh(samples: Float64Array, cornerHz: number, sampleRateHz: number): Float64Array {
  const tangent = Math.tan((Math.PI * cornerHz) / sampleRateHz);
  let lastIn = 0;
  let lastOut = 0;
  return samples.map((value) => {
    lastOut = ((1 - tangent) * lastOut + value - lastIn) / (1 + tangent);
    lastIn = value;
    return lastOut;
  });
}

describe('identifyModes', () => {
  test('has no candidates without strikes', () => {
    expect(identifyModes([]).candidates).toEqual([]);
  });

  test('refuses a strike whose fields do not fit together', () => {
    const [strike] = makeVisit({ planes: [makePlane(1), makePlane(1.02)], exciters: ['hammer'], seed: 1 });
    expect(() => identifyModes([{ ...strike!, azimuthsDeg: [0] }])).toThrow(InputError);
    expect(() => identifyModes([{ ...strike!, azimuthsDeg: [0] }])).toThrow(
      /Strike 0 of hammer.wav .* 1 azimuths/,
    );
    expect(() =>
      identifyModes([{ ...strike!, channels: strike!.channels.map((x) => x.slice(0, 100)) }]),
    ).toThrow(/at least 256/);
  });

  test('an exponential window over the recording is taken off the damping', () => {
    const planes = [makePlane(1), makePlane(1.02)];
    const exponentialWindowS = 4;
    const windowed = makeVisit({ planes, exciters: FOUR, seed: 3 }).map((strike) => ({
      ...strike,
      exponentialWindowS,
      channels: strike.channels.map((samples) =>
        samples.map((value, i) => value * Math.exp(-i / (strike.sampleRateHz * exponentialWindowS))),
      ),
    }));
    const { candidates } = identifyModes(windowed);
    planes.forEach((truth, plane) => {
      const found = accepted(candidates, plane);
      expect(found).toHaveLength(truth.length);
      truth.forEach((mode, i) => {
        expect(Math.abs(found[i]!.frequencyHz.value / mode.frequencyHz - 1)).toBeLessThan(RELATIVE_ERROR);
        // left on, it would be double and more for a first mode: 1 / (2 pi 1.9 Hz 4 s) = 0.021
        expect(Math.abs(found[i]!.dampingRatio.value / mode.dampingRatio - 1)).toBeLessThan(0.03);
      });
    });
  });

  test.each([1.003, 1.02, 1.3])(
    'finds three modes in each of two planes that differ by a factor of %f',
    (factor) => {
      const planes = [makePlane(1), makePlane(factor)];
      const { candidates } = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 3 }));
      planes.forEach((truth, plane) => {
        expectModes(accepted(candidates, plane), truth);
      });
    },
  );

  test('gives equal planes a frequency each', () => {
    const planes = [makePlane(1), makePlane(1)];
    const { candidates } = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 4 }));
    planes.forEach((truth, plane) => {
      expectModes(accepted(candidates, plane), truth);
    });
  });

  test('keeps its intervals honest with a sensor strapped on 4 degrees off', () => {
    const planes = [makePlane(1), makePlane(1.015)];
    const { candidates } = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 5, turnDeg: 4 }));
    planes.forEach((truth, plane) => {
      expectModes(accepted(candidates, plane), truth);
    });
  });

  test('lists accepted ones first, by plane and frequency, with what made them', () => {
    const { candidates } = identifyModes(
      makeVisit({ planes: [makePlane(1), makePlane(1.02)], exciters: FOUR, seed: 6 }),
    );
    const keys = candidates.map((c) => [c.accepted ? 0 : 1, c.plane, c.frequencyHz.value]);
    expect(keys).toEqual([...keys].sort((a, b) => a[0]! - b[0]! || a[1]! - b[1]! || a[2]! - b[2]!));
    const [first, , third] = accepted(candidates, 1);
    expect(first!.azimuthDeg).toBe(90);
    // the hammer's mode 1 lies below the noise of its lines
    expect(first!.strikes).toBe(2);
    expect(first!.reason).toMatch(/2 of 2 hand strikes/);
    expect(third!.strikes).toBe(4);
    expect(third!.relativeAmplitude).toBe(1);
  });

  test('leaves the first mode out rather than inventing one where nothing lights it', () => {
    const planes = [makePlane(1).slice(1), makePlane(1.02).slice(1)];
    const { candidates } = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 7 }));
    planes.forEach((truth, plane) => {
      expectModes(accepted(candidates, plane), truth);
    });
  });

  test('takes what lies below the corner of the sensor only where it is clear of noise', () => {
    const planes = [makePlane(1), makePlane(1.02)];
    const clear = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 8, cornerHz: 4 })).candidates;
    expect(accepted(clear, 0).map((c) => Math.round(c.frequencyHz.value))).toEqual([2, 10, 30]);
    expect(accepted(clear, 0)[0]!.reason).toMatch(/below the corner .*4 Hz.* clear of noise/);
    const faint = planes.map(([first, ...others]) => [{ ...first!, hand: 0.0018 }, ...others]);
    const { candidates } = identifyModes(makeVisit({ planes: faint, exciters: FOUR, seed: 8, cornerHz: 4 }));
    expect(accepted(candidates, 0).map((c) => Math.round(c.frequencyHz.value))).toEqual([10, 30]);
    expect(candidates.filter((c) => c.refusal === 'corner').length).toBeGreaterThan(0);
  });

  test.each([0.5, 1, 2, 3])(
    'finds a first mode at 1.1 Hz beside a corner of %f Hz without bias',
    (cornerHz) => {
      const planes = [makePlane(0.6), makePlane(0.612)];
      const strikes = makeVisit({ planes, exciters: FOUR, seed: 41, turnDeg: 3 }).map((strike) => ({
        ...strike,
        cornerHz,
        channels: strike.channels.map((samples) => passHigh(samples, cornerHz, strike.sampleRateHz)),
      }));
      const { candidates } = identifyModes(strikes);
      planes.forEach((truth, plane) => {
        expectModes(accepted(candidates, plane), truth);
      });
    },
  );

  test.each([20, -20, 44])('turns to planes that lie %i degrees off the sensor', (turnDeg) => {
    const planes = [makePlane(1), makePlane(1.015)];
    const {
      candidates,
      azimuthsDeg,
      turnDeg: found,
    } = identifyModes(makeVisit({ planes, exciters: FOUR, seed: 42, turnDeg }));
    // the sensor's axes are turned by turnDeg from the planes, so the planes lie as much the other way
    expect(Math.abs(Math.abs(found.value) - Math.abs(turnDeg))).toBeLessThan(3 * found.sd);
    expect(found.sd).toBeLessThan(1);
    expect(azimuthsDeg[0]! % 90).toBeCloseTo((found.value + 360) % 90, 0);
    expect(candidates[0]!.azimuthDeg).toBe(azimuthsDeg[candidates[0]!.plane]);
    planes.forEach((truth, plane) => {
      expectModes(accepted(candidates, plane), truth);
    });
  });

  test('holds the azimuths as strapped where the sensor is a few degrees off', () => {
    const planes = [makePlane(1), makePlane(1.015)];
    const { azimuthsDeg, turnDeg } = identifyModes(
      makeVisit({ planes, exciters: FOUR, seed: 43, turnDeg: 6 }),
    );
    expect(azimuthsDeg).toEqual([0, 90]);
    expect(Math.abs(turnDeg.value)).toBeCloseTo(6, 0);
  });

  test('names what touched the pole where some strikes ring elsewhere', () => {
    const free = [makePlane(1), makePlane(1.02)];
    const held = [makePlane(0.94), makePlane(0.96)];
    const strikes = [
      ...makeVisit({ planes: free, exciters: ['hammer', 'hand', 'hand'], seed: 44 }),
      ...makeVisit({ planes: held, exciters: ['hammer', 'hand'], seed: 45 }),
    ];
    const { candidates } = identifyModes(strikes);
    for (const plane of [0, 1]) expectModes(accepted(candidates, plane).slice(-2), free[plane]!.slice(-2));
    expect(candidates.filter((mode) => mode.refusal === 'touched').length).toBeGreaterThan(0);
  });

  test('calls mains hum by its name', () => {
    const { candidates } = identifyModes(
      makeVisit({
        planes: [makePlane(1), makePlane(1.02)],
        exciters: FOUR,
        seed: 9,
        disturb: (_, channel, t) => (channel + 1) * 0.05 * Math.sin(2 * Math.PI * 50.01 * t),
      }),
    );
    const hum = candidates.filter((c) => Math.abs(c.frequencyHz.value - 50) < 0.5);
    expect(hum.length).toBeGreaterThan(0);
    for (const candidate of hum)
      expect(candidate).toMatchObject({ accepted: false, reason: expect.stringMatching(/hum/) });
    for (const plane of [0, 1]) expect(accepted(candidates, plane)).toHaveLength(3);
  });

  test('refuses what one of three hammer strikes shows', () => {
    const { candidates } = identifyModes(
      makeVisit({
        planes: [makePlane(1), makePlane(1.02)],
        exciters: ['hammer', 'hammer', 'hammer'],
        seed: 10,
        disturb: (strike, channel, t) =>
          strike === 1 && channel === 0 ? 3 * Math.exp(-t) * Math.sin(2 * Math.PI * 17 * t) : 0,
      }),
    );
    const odd = candidates.filter((c) => Math.abs(c.frequencyHz.value - 17) < 0.5);
    expect(odd).toHaveLength(1);
    expect(odd[0]).toMatchObject({
      accepted: false,
      strikes: 1,
      reason: expect.stringMatching(/one of 3 hammer/),
    });
  });

  test('bears a drifting sensor under a slow first mode', () => {
    const planes = [makePlane(0.6), makePlane(0.615)];
    const { candidates } = identifyModes(
      makeVisit({
        planes,
        exciters: ['hand', 'hand', 'hand'],
        seed: 11,
        durationS: 6,
        disturb: (_, channel, t) => 0.3 - 0.1 * t + 0.02 * channel * t * t,
      }),
    );
    planes.forEach((truth, plane) => {
      expectModes(accepted(candidates, plane).slice(0, 1), truth.slice(0, 1));
    });
  });

  test('accepts nothing in noise', () => {
    for (let seed = 20; seed < 28; seed++) {
      const { candidates } = identifyModes(makeVisit({ planes: [[], []], exciters: FOUR, seed }));
      expect(candidates.filter((candidate) => candidate.accepted)).toEqual([]);
    }
  });

  test('does not change its input and repeats itself', () => {
    const strikes = makeVisit({ planes: [makePlane(1), makePlane(1.02)], exciters: FOUR, seed: 12 });
    const before = structuredClone(strikes);
    expect(identifyModes(strikes)).toEqual(identifyModes(strikes));
    expect(strikes).toEqual(before);
  });
});

describe('refineMode', () => {
  const strikes = makeVisit({ planes: [makePlane(1), makePlane(1.02)], exciters: FOUR, seed: 13 });

  test.each([
    [0, 10.2, 10.4],
    [1, 30, 29.7 * 1.02],
    [1, 1.9, 1.9 * 1.02],
  ])('climbs in plane %i from %f Hz to the mode at %f Hz', (plane, nearHz, wantedHz) => {
    const candidate = refineMode(strikes, plane, nearHz);
    expect(candidate.plane).toBe(plane);
    expect(candidate.accepted).toBe(true);
    expect(Math.abs(candidate.frequencyHz.value / wantedHz - 1)).toBeLessThan(RELATIVE_ERROR);
  });

  test('keeps a frequency where nothing rings, with an honest doubt', () => {
    const candidate = refineMode(strikes, 0, 70);
    expect(candidate.accepted).toBe(false);
    expect(candidate.frequencyHz.sd).toBeGreaterThan(0.1);
    expect(Math.abs(candidate.frequencyHz.value - 70)).toBeLessThan(70 * 0.05);
  });

  test('names a plane that was not recorded', () => {
    expect(() => refineMode(strikes, 2, 10)).toThrow(/Plane 2 at 10 Hz .* 0 to 1/);
  });
});
