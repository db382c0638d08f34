import type { RequirementProfile } from '../core/recording/visitFile.ts';

/** Invented: loads of a stretch of line with a slight turn and a transformer, as its engineer would enter them. */
export const LINE_LOADS: RequirementProfile = {
  name: 'Kelvermoor, sheet 9',
  source: 'Invented line loads',
  wind: {
    pressurePa: 287,
    flatPressurePa: 479,
    iceThicknessM: 0.0127,
    onPole: true,
    source: 'Pressures and ice of California General Order 95, rule 43.1, for an invented line',
  },
  conductors: [
    {
      name: 'three phases',
      count: 3,
      heightM: 10,
      diameterM: 0.0136,
      windSpanM: 80,
      tensionN: 4000,
      lineAngleDeg: 8,
    },
    {
      name: 'communication cable',
      count: 1,
      heightM: 6.5,
      diameterM: 0.025,
      windSpanM: 80,
      tensionN: 3000,
      lineAngleDeg: 8,
    },
  ],
  equipment: [
    { name: 'transformer', heightM: 8.4, areaM2: 0.6, face: 'flat', massKg: 280, offsetM: 0.5 },
    { name: 'crossarm', heightM: 10, areaM2: 0.28, face: 'flat', massKg: 30 },
  ],
  forces: [],
  loadFactors: {
    wind: 1.5,
    tension: 1.5,
    weight: 1.3,
    strength: 1,
    source: 'Invented factors of the district',
  },
  rule: {
    factor: 2 / 3,
    source: 'Two thirds, as California General Order 95, rule 44.3, for an invented line',
  },
};
