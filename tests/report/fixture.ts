import type { Assessment, Estimate, StemRootPicture } from '../../core/assessment.ts';
import { CAUTIONS } from '../../core/cautions.ts';
import type { VisitFile } from '../../core/recording/visitFile.ts';
import type { ReportInput, ReportRecording, ReportSpectrum } from '../../core/report/index.ts';

/** An invented pole of an invented line, with numbers of a plausible size; nothing here was measured. */

const SAMPLE_RATE_HZ = 1000;
const DURATION_S = 12;
const COLUMNS = 600;
const STRIKE_STARTS_S = [0.8, 6.6];

const MODES_HZ = [
  [2.79, 11.32, 27.9],
  [3.05, 11.9, 28.6],
];

export const visit: VisitFile = {
  format: 'stemroot-visit',
  version: 1,
  pole: {
    id: 'TV-0417',
    species: 'southern-pine',
    treatment: 'creosote',
    classCode: '4',
    lengthM: 9.14,
    setYear: 1998,
    latitude: 12.345678,
    longitude: -98.7654321,
    buttToTagM: 3.05,
  },
  measured: {
    date: '2026-05-03',
    circumferences: [
      { heightM: 0.1, circumferenceM: 0.842 },
      { heightM: 1.7, circumferenceM: 0.801 },
    ],
    topCircumferenceM: 0.54,
    tagHeightM: 1.45,
    sensorHeightM: 2,
    sensorMassKg: 0.4,
    soil: 'medium-sand',
    moisturePercent: 22,
    temperatureC: 14,
    lineAzimuthDeg: 90,
    cables: [
      { kind: 'aerial', count: 2, heightM: 6.2, azimuthDeg: 90, lateralStiffnessNPerM: 2500, massKg: 18 },
    ],
    attachments: [{ heightM: 6.5, massKg: 12, kind: 'crossarm' }],
    densityKgPerM3: null,
    shellThicknessM: null,
  },
  requirement: null,
  recordings: [
    {
      file: 'hammer.wav',
      exciter: 'hammer',
      strikeHeightM: 1.3,
      strikeAzimuthDeg: 45,
      channels: [
        { index: 0, azimuthDeg: 0, fullScaleMPerS2: 98.1 },
        { index: 1, azimuthDeg: 90, fullScaleMPerS2: 98.1 },
      ],
    },
  ],
  options: {},
};

function estimate(value: number, low: number, high: number): Estimate {
  return { value, low, high, level: 0.9 };
}

function makeCheck(id: string, value: number, limit: number, unit: string) {
  return { id, verdict: 'use' as const, value, limit, unit, text: '', advice: '' };
}

function makeChecks() {
  return [
    makeCheck('clipping', 0.31, 0.98, 'of full scale'),
    makeCheck('double-blow', 0.04, 0.25, 'of the first blow'),
    makeCheck('noise', 41.3, 20, 'dB'),
    makeCheck('cut-short', 8.2, 6, 'time constants'),
    makeCheck('one-plane-weak', 0.87, 0.25, 'ratio of planes'),
  ];
}

function makeMode(plane: number, number: number, frequencyHz: number): Assessment['modes'][number] {
  return {
    plane,
    azimuthDeg: plane * 90,
    number,
    frequencyHz: { value: frequencyHz, sd: 0.004 * frequencyHz },
    dampingRatio: { value: 0.012 + 0.002 * number, sd: 0.0021 },
    source: plane === 1 && number === 3 ? 'analyst' : 'proposed',
    status: plane === 1 && number === 3 ? 'confirmed' : 'candidate',
    predictedHz: frequencyHz * (1 + 0.003 * (number - 2)),
    residual: -0.75 * (number - 2),
    oddChance: 0.02 * number,
    strikes: 4,
    reason: 'Seen in both strikes of hammer and hand.',
  };
}

function numberPeaks(isStray: (plane: number, i: number) => boolean) {
  return MODES_HZ.flatMap((frequencies, plane) =>
    frequencies.map((frequencyHz, i) => ({ plane, frequencyHz, number: isStray(plane, i) ? null : i + 1 })),
  );
}

const modulusPa = estimate(10.42e9, 9.61e9, 11.32e9);
const fixity = estimate(14.2, 7.9, 27.5);

export const assessment: Assessment = {
  visit: 'TV-0417.visit.json',
  poleId: 'TV-0417',
  verdict: 'assessed',
  withheldBecause: null,
  recordingWarnings: [],
  priors: [
    { name: 'stem modulus', median: 12.3e9, low: 8.8e9, high: 17.1e9, unit: 'Pa', source: 'Wood Handbook' },
  ],
  strikes: ['hammer.wav', 'hand.wav'].flatMap((recording) =>
    STRIKE_STARTS_S.map((startS, i) => ({
      recording,
      exciter: recording === 'hand.wav' ? ('hand' as const) : ('hammer' as const),
      startS,
      endS: startS + 4.1,
      contactS: 0.005,
      litToHz: 200,
      verdict: recording === 'hand.wav' && i === 1 ? ('use with care' as const) : ('use' as const),
      checks: makeChecks().map((check) =>
        recording === 'hand.wav' && i === 1 && check.id === 'one-plane-weak'
          ? {
              ...check,
              verdict: 'use with care' as const,
              value: 0.21,
              text: 'The plane at 90° got a fifth of what the plane at 0° got.',
              advice: 'Strike at 45° to both axes of the sensor.',
            }
          : check,
      ),
    })),
  ),
  recordingChecks: [makeCheck('repeatability', 0.4, 2, '% of f1')],
  modes: MODES_HZ.flatMap((frequencies, plane) => frequencies.map((hz, i) => makeMode(plane, i + 1, hz))),
  furtherData: [],
  otherPeaks: [{ plane: 0, azimuthDeg: 0, frequencyHz: 60.02, prominenceDb: 18.4, reason: 'Mains hum.' }],
  assignments: [
    { probability: 0.93, numbers: numberPeaks(() => false) },
    { probability: 0.05, numbers: numberPeaks((plane, i) => plane === 0 && i === 1) },
  ],
  stem: {
    modulusPa,
    densityKgPerM3: estimate(655, 590, 727),
    priorModulusPa: estimate(12.3e9, 8.8e9, 17.1e9),
  },
  root: {
    model: 'bedded',
    models: [{ model: 'bedded', probability: 1 }],
    chosenBecause: 'Soil and setting depth are known, so the pole is carried by soil below ground.',
    rotationalStiffnessNmPerRad: estimate(3.1e6, 1.7e6, 6.2e6),
    fixity,
    fixityMapped: estimate(0.934, 0.888, 0.965),
    settingDepthM: estimate(1.6, 1.52, 1.68),
    soilModulus: { ...estimate(21.4e6, 9.8e6, 47e6), unit: 'N/m3' },
    expectedRotationalStiffnessNmPerRad: estimate(3.6e6, 1.5e6, 8.4e6),
    softRootChance: 0.41,
  },
  identifiability: {
    stem: 0.74,
    root: 0.42,
    verdict: 'separated',
    advice: 'A recording at a second height would narrow the root most.',
    nextMeasurements: [
      { id: 'density', text: 'Density of the wood: take a core.', stemNarrowing: 0.19, rootNarrowing: 0.12 },
    ],
  },
  strength: {
    calibration: 'handbook@1',
    modulusOfRupturePa: estimate(48.2e6, 33.1e6, 66e6),
    sectionModulusM3: 0.00189,
    groundlineMomentNm: estimate(91.1e3, 62.4e3, 124.8e3),
    lower5PercentNm: 62.4e3,
    assumes: 'Sound wood at ground line: the section there was not inspected.',
    warnings: ['The handbook speaks of clear wood; knots and checks of a pole are only in the spread.'],
  },
  requirement: {
    groundlineMomentNm: 80.5e3,
    chanceBelow: 0.29,
    ruleFactor: 0.667,
    thresholdMomentNm: 53.7e3,
    chanceBelowThreshold: 0.018,
    source: 'ANSI O5.1 class load of class 4, 0.61 m below the tip',
    ruleSource: 'Strength left at which a pole is to be replaced or restored; local code decides.',
  },
  findings: [
    {
      id: 'dry-season',
      text: 'Moisture of 22 % lies below the green condition of the calibration; strength was adjusted.',
    },
  ],
  cautions: [...CAUTIONS],
  provenance: { program: 'stemroot 0.1.0', inputsSha256: 'ab'.repeat(32), seed: 1 },
};

/** Decaying cosines of the modes after each strike; columns of constant sign of the envelope. */
function makeRecording(file: string, exciter: 'hammer' | 'hand', scale: number): ReportRecording {
  const timesS = Array.from({ length: COLUMNS }, (_, i) => ((i + 0.5) * DURATION_S) / COLUMNS);
  const envelope = (timeS: number, plane: number): number => {
    const startS = STRIKE_STARTS_S.findLast((start) => start <= timeS);
    const ring = startS === undefined ? 0 : scale * (1 - 0.2 * plane) * Math.exp(-(timeS - startS) / 0.7);
    return ring + 0.004 * scale;
  };
  return {
    file,
    exciter,
    sampleRateHz: SAMPLE_RATE_HZ,
    durationS: DURATION_S,
    sha256: (exciter === 'hammer' ? '0f' : 'c3').repeat(32),
    warnings: [],
    waveform: {
      timesS,
      channels: [0, 1].map((plane) => {
        const high = timesS.map((t, i) => envelope(t, plane) * (0.75 + 0.25 * Math.cos(i * 1.7 + plane)));
        return { azimuthDeg: plane * 90, low: high.map((h) => -0.93 * h), high };
      }),
    },
  };
}

/** Sum of resonance curves at the modes over a floor of noise. */
function makeSpectrum(recording: string, strike: number, scale: number): ReportSpectrum {
  const frequenciesHz = Array.from({ length: 800 }, (_, i) => i * 0.1);
  return {
    recording,
    strike,
    window: 'half Hann',
    unit: 'm/s²',
    frequenciesHz,
    channels: MODES_HZ.map((modesHz, plane) => ({
      azimuthDeg: plane * 90,
      values: frequenciesHz.map((hz, k) =>
        modesHz.reduce(
          (sum, modeHz) =>
            sum + (0.4 * scale) / Math.hypot(1 - (hz / modeHz) ** 2, (0.03 * hz) / modeHz) / 30,
          0.0005 * scale * (2 + Math.sin(7.3 * k + plane)),
        ),
      ),
    })),
  };
}

/** A normal law in (ln E, ln fixity), correlated as stem and root are. */
function makePicture(): StemRootPicture {
  const spread = { stem: 0.05, root: 0.38, correlation: -0.7 };
  const axis = (middle: number, span: number, count: number): number[] =>
    Array.from({ length: count }, (_, i) => middle * Math.exp(span * ((2 * i) / (count - 1) - 1)));
  const moduli = axis(modulusPa.value, 0.6, 96);
  const fixities = axis(fixity.value, 2, 96);
  const density = fixities.map((fix) =>
    moduli.map((modulus) => {
      const u = Math.log(modulus / modulusPa.value) / spread.stem;
      const v = Math.log(fix / fixity.value) / spread.root;
      const square = (u * u - 2 * spread.correlation * u * v + v * v) / (1 - spread.correlation ** 2);
      return Math.exp(-square / 2);
    }),
  );
  return {
    modulusPa: moduli,
    fixity: fixities,
    density,
    // A normal law in two dimensions: the contour at density 1 - p holds probability p.
    credibleLevels: [0.5, 0.9].map((probability) => ({ probability, density: 1 - probability })),
    requiredModulusPa: 9.1e9,
    classRange: { modulusPa: [8.8e9, 17.1e9], fixity: [5, 40] },
  };
}

export function makeInput(changes: Partial<ReportInput> = {}): ReportInput {
  return {
    program: 'stemroot 0.1.0',
    printedAt: '2026-05-04T10:12:00.000Z',
    visit,
    assessment,
    compared: [],
    picture: makePicture(),
    calibration: {
      title: 'Means and variation of small clear specimens by species.',
      sources: ['Wood Handbook, Forest Products Laboratory, FPL-GTR-282 (2021), chapter 5'],
    },
    rulings: [
      {
        isOnThisResult: true,
        signed: null,
        withdrawn: null,
        decidedAt: '2026-05-03T16:40:00.000Z',
        analyst: 'A. Nalyst (invented)',
        decision: 'excavate and bore',
        reason: 'Chance below the requirement is near a third; look at the ground line before the season.',
      },
    ],
    decisions: [
      { plane: 1, number: 3, frequencyHz: 28.6 },
      { plane: 0, number: 4, frequencyHz: null },
    ],
    stored: { by: 'A. Nalyst (invented)', at: '2026-05-03T16:30:00.000Z' },
    recordings: [makeRecording('hammer.wav', 'hammer', 21), makeRecording('hand.wav', 'hand', 4.2)],
    spectra: [makeSpectrum('hammer.wav', 0, 1), makeSpectrum('hand.wav', 0, 0.2)],
    ...changes,
  };
}

/** The same visit, its blows too poor to say anything. */
export function makeWithheld(): ReportInput {
  return makeInput({
    compared: [],
    picture: null,
    rulings: [],
    decisions: [],
    assessment: {
      ...assessment,
      verdict: 'withheld',
      withheldBecause: 'Every strike was clipped or cut short, so no mode could be identified.',
      strikes: assessment.strikes.map((strike) => ({
        ...strike,
        verdict: 'repeat',
        checks: strike.checks.map((check) =>
          check.id === 'clipping'
            ? {
                ...check,
                verdict: 'repeat',
                value: 1,
                text: 'The recorder was at its full scale for 14 samples.',
                advice: 'Strike softer, or set a larger full scale.',
              }
            : check,
        ),
      })),
      modes: [],
      otherPeaks: [],
      assignments: [],
      stem: null,
      root: null,
      identifiability: null,
      strength: null,
    },
  });
}

/** A visit whose recordings could not be read at all. */
export function makeFailed(): ReportInput {
  return makeInput({
    compared: [],
    picture: null,
    recordings: [],
    spectra: [],
    rulings: [],
    decisions: [],
    assessment: {
      visit: 'TV-0417.visit.json',
      poleId: 'TV-0417',
      verdict: 'failed',
      error: {
        code: 'recording.missing',
        message: 'hammer.wav is not in the folder of the visit file.',
        hint: 'Copy hammer.wav beside the visit file and import the visit again.',
      },
    },
  });
}
