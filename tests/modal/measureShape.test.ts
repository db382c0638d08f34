/** Against samples/simulator, which shares no code with the program: exact modal superposition of a half-sine blow. */
import { expect, test } from 'vitest';
import { identifyModes, type StrikeSegment } from '../../core/modal/index.ts';
import { addModalResponse } from '../../samples/simulator/index.ts';
import { createNormal } from './makeDecay.ts';

const RATE_HZ = 1000;
const NOISE_SD = 0.01;
const CONTACT_S = 0.03;
const MODES = [
  { frequencyHz: 1.9, dampingRatio: 0.02, gainPerKg: 0.004, ratio: 2.6 },
  { frequencyHz: 10.4, dampingRatio: 0.014, gainPerKg: 0.0024, ratio: 1.4 },
  { frequencyHz: 29.7, dampingRatio: 0.012, gainPerKg: 0.0024, ratio: -0.35 },
];

function strikeTwoHeights(seed: number, turnDeg: number): StrikeSegment {
  const normal = createNormal(seed);
  const own = [0, 1].flatMap((sensor) =>
    [0, 1].map((plane) => {
      const samples = new Float64Array(8 * RATE_HZ);
      for (const { frequencyHz, ratio, gainPerKg, dampingRatio } of MODES) {
        const mode = {
          frequencyHz: frequencyHz * (plane === 0 ? 1 : 1.012),
          dampingRatio,
          gainPerKg: gainPerKg * (sensor === 0 ? 1 : ratio),
        };
        addModalResponse(samples, RATE_HZ, mode, { startS: 0, contactS: CONTACT_S, peakN: 800 });
      }
      return samples;
    }),
  );
  const cos = Math.cos((turnDeg * Math.PI) / 180);
  const sin = Math.sin((turnDeg * Math.PI) / 180);
  const channels = own.map((_, c) => {
    const [along, across] = [own[c - (c % 2)]!, own[c - (c % 2) + 1]!];
    const mixed = along.map((x, i) => {
      const turned = c % 2 === 0 ? cos * x - sin * across[i]! : sin * x + cos * across[i]!;
      return turned + NOISE_SD * normal();
    });
    return mixed.subarray(2 * CONTACT_S * RATE_HZ);
  });
  return {
    recording: 'hand.wav',
    strikeIndex: seed,
    sampleRateHz: RATE_HZ,
    channels,
    azimuthsDeg: [0, 90, 0, 90],
    heightsM: [2, 2, 4.5, 4.5],
    noiseRms: [NOISE_SD, NOISE_SD, NOISE_SD, NOISE_SD],
    cornerHz: 0.2,
    exciter: 'hand',
  };
}

test.each([0, 6, 20])('ratios of mode shapes between two heights, sensor turned by %i degrees', (turnDeg) => {
  const { candidates } = identifyModes([strikeTwoHeights(1, turnDeg), strikeTwoHeights(2, turnDeg)]);
  const accepted = candidates.filter((candidate) => candidate.accepted);
  expect(accepted).toHaveLength(6);
  for (const { frequencyHz, shapeRatios } of accepted) {
    const truth = MODES.find((mode) => Math.abs(mode.frequencyHz / frequencyHz.value - 1) < 0.05)!;
    expect(shapeRatios).toHaveLength(1);
    const [{ heightM, referenceHeightM, ratio, sd }] = shapeRatios as [
      NonNullable<typeof shapeRatios>[number],
    ];
    expect([heightM, referenceHeightM]).toEqual([4.5, 2]);
    expect(Math.abs(ratio - truth.ratio)).toBeLessThan(3 * sd);
    expect(sd).toBeLessThan(0.02 * Math.abs(truth.ratio));
  }
});

test('sensors at one height have no ratio', () => {
  const { heightsM: _heightsM, ...strike } = strikeTwoHeights(1, 0);
  const { candidates } = identifyModes([
    {
      ...strike,
      channels: strike.channels.slice(0, 2),
      azimuthsDeg: [0, 90],
      noiseRms: strike.noiseRms.slice(0, 2),
    },
  ]);
  expect(candidates.every((candidate) => candidate.shapeRatios === undefined)).toBe(true);
});
