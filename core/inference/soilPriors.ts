import type { VisitFile } from '../recording/index.ts';

type Soil = VisitFile['measured']['soil'];

/** What is expected of a soil before any recording: lognormal modulus of its subgrade reaction on a pole. */
export type SoilPrior = {
  readonly subgrade: 'constant' | 'linear';
  /** n_h in N/m3 where `linear`, k in N/m2 (per metre of pole) where `constant`. */
  readonly median: number;
  readonly logSd: number;
  readonly source: string;
};

const SAND_SOURCE =
  'n_h of sand for small deflection: Reese, Cox & Koop 1974, 25, 90 and 225 lb/in3 above water (from memory)';
const CLAY_SOURCE =
  'k = 67 cu of clay (Davisson 1970, from memory) with cu of 25, 50 and 100 kPa, doubled for the small strain of a blow (ours)';

/** Backfill is seldom the soil around it: a factor of two and a half either way at one standard deviation (ours). */
const BACKFILL_LOG_SD = 0.9;
const UNKNOWN_LOG_SD = 1.3;

export const SOIL_PRIORS: Readonly<Record<Soil, SoilPrior>> = {
  'loose-sand': { subgrade: 'linear', median: 6.8e6, logSd: BACKFILL_LOG_SD, source: SAND_SOURCE },
  'medium-sand': { subgrade: 'linear', median: 24.4e6, logSd: BACKFILL_LOG_SD, source: SAND_SOURCE },
  'dense-sand': { subgrade: 'linear', median: 61e6, logSd: BACKFILL_LOG_SD, source: SAND_SOURCE },
  gravel: {
    subgrade: 'linear',
    median: 61e6,
    logSd: BACKFILL_LOG_SD,
    source: `${SAND_SOURCE}; gravel taken as dense sand (ours)`,
  },
  'soft-clay': { subgrade: 'constant', median: 3.4e6, logSd: BACKFILL_LOG_SD, source: CLAY_SOURCE },
  'medium-clay': { subgrade: 'constant', median: 6.7e6, logSd: BACKFILL_LOG_SD, source: CLAY_SOURCE },
  'stiff-clay': { subgrade: 'constant', median: 13.4e6, logSd: BACKFILL_LOG_SD, source: CLAY_SOURCE },
  unknown: {
    subgrade: 'linear',
    median: 15e6,
    logSd: UNKNOWN_LOG_SD,
    source: 'soil not stated: wide, from loose to dense sand (ours)',
  },
};
