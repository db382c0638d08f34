/**
 * A measured steel cantilever, 759 x 50.66 x 5.14 mm with an accelerometer near its tip. Data and published natural
 * frequencies 6.62, 41.4 and 117.5 Hz: Chowdhury, Downey, Bakos and Conrad, Dataset-4, April 2021, CC BY-SA 4.0
 * (data/steel_cantilever_fft, licence beside it). Steel: E = 200 GPa and 7850 kg/m3, handbook values (from memory).
 * On an ideal clamp these give 7.28, 45.6 and 127.7 Hz, 9 to 10 % off: the clamp gives way and the sensor has mass.
 */
import { describe, expect, test } from 'vitest';
import {
  fitRoots,
  fitStemAndRoot,
  type PoleModel,
  summarisePosterior,
  tabulateFrequencies,
} from '../../core/inference/index.ts';
import { findPeaks } from '../../core/modal/index.ts';
import { readReferenceTable } from './readReferenceTable.ts';

const PUBLISHED_HZ = [6.62, 41.4, 117.5];
const LENGTH_M = 0.759;
const WIDTH_M = 0.05066;
const THICKNESS_M = 0.00514;
/**
 * The stem room knows round sections. A uniform beam's frequencies hang on E I / (rho A) alone, so a round one with
 * the same radius of gyration stands in: d^2 / 16 = t^2 / 12. Point masses then scale with the area.
 */
const DIAMETER_M = THICKNESS_M * Math.sqrt(16 / 12);
const AREA_RATIO = (Math.PI * DIAMETER_M ** 2) / 4 / (WIDTH_M * THICKNESS_M);
/** An accelerometer of this kind weighs 5 to 50 g with mount and cable (common practice, no source); "tip-side" is all that is said of its place. */
const SENSOR_KG = 0.02;
const shape = { heightsM: [0, LENGTH_M], diametersM: [DIAMETER_M, DIAMETER_M] };
const STEEL = 'handbook value of steel (from memory)';

const beam: PoleModel = {
  lengthM: LENGTH_M,
  settingDepthM: 0,
  settingDepthSdM: 1e-4,
  settingDepthSource: 'clamped at the end',
  shape,
  shapeForTip: () => shape,
  tipDiameterSdM: 1e-6,
  tipSource: STEEL,
  // thickness to 0.02 mm
  girthLogSd: 0.004,
  groundlineGirthLogSd: 0.002,
  modulus: { median: 200e9, logSd: 0.025, source: STEEL },
  density: { median: 7850, logSd: 0.005, source: STEEL },
  root: { model: 'spring' },
  rootChance: { chance: 1, source: STEEL },
  rootStiffness: {
    median: (30 * 200e9 * Math.PI * DIAMETER_M ** 4) / 64 / LENGTH_M,
    logSd: 1.5,
    source: 'wide',
  },
  givenPriors: [],
  shear: null,
  masses: [
    {
      heightM: LENGTH_M,
      massKg: SENSOR_KG * AREA_RATIO,
      logSd: 0.7,
      origin: { setBy: 'measured.sensorMassKg', isGiven: true },
    },
  ],
  cables: [],
  selfWeight: false,
};

const table = tabulateFrequencies(beam, [0]);
const picks = PUBLISHED_HZ.map((frequencyHz, i) => ({
  plane: 0,
  number: i + 1,
  frequencyHz,
  // 0.02 Hz: half of the last digit and the difference between two readings that the authors give
  sdHz: 0.02 + 0.0005 * frequencyHz,
}));
const posterior = fitStemAndRoot(table, picks);

describe('published frequencies of a steel cantilever', () => {
  test('an ideal clamp is 9 to 10 % off', () => {
    const stiffest = table.x.length - 1;
    const ideal = [0, 1, 2].map((mode) => {
      const bare = tabulateFrequencies({ ...beam, masses: [] }, [0]);
      return Math.exp(bare.logFrequency[0]![mode]![stiffest * 3 + 1]!);
    });
    // within 0.3 % of the ideal values above: the root axis ends at a stiff, not at a rigid clamp
    [7.28, 45.59, 127.66].forEach((wanted, mode) => {
      expect(Math.abs(ideal[mode]! / wanted - 1)).toBeLessThan(3e-3);
    });
  });

  test('a soft clamp and a sensor mass explain all three within 1 %', () => {
    posterior.results.forEach(({ predicted, oddChance }, i) => {
      const predictedHz = Math.exp(predicted);
      expect(Math.abs(predictedHz / PUBLISHED_HZ[i]! - 1), `mode ${i + 1}: ${predictedHz} Hz`).toBeLessThan(
        0.01,
      );
      expect(oddChance).toBeLessThan(0.5);
    });
    expect(posterior.widening).toBe(1);
  });

  test('the clamp is told apart from a rigid one', () => {
    const { fixity } = summarisePosterior(fitRoots([table], picks), fitRoots([table], []));
    expect(fixity.high).toBeLessThan(200);
  });
});

describe('measured spectrum of the same beam', () => {
  test('peaks lie at the published frequencies', () => {
    const rows = readReferenceTable('steel_cantilever_fft/spectrum-to-400hz.csv');
    const levels = Float64Array.from(rows, (row) => Number(row.acceleration_db_rms_g));
    const stepHz = Number(rows[1]!.frequency_hz) - Number(rows[0]!.frequency_hz);
    const { index } = findPeaks(levels, { minimumProminence: 20 });
    const strongest = Array.from(index, (at) => at * stepHz);
    for (const wanted of PUBLISHED_HZ) {
      const nearest = strongest.reduce((a, b) => (Math.abs(b - wanted) < Math.abs(a - wanted) ? b : a));
      // half a line of 0.085 Hz, and 0.5 % for what the authors rounded and averaged
      expect(Math.abs(nearest - wanted), `${nearest} near ${wanted}`).toBeLessThan(
        stepHz / 2 + 0.005 * wanted,
      );
    }
  });
});
