/** Predictors that the handbook calibration does not look at, as a bare pole has them of which nothing more was measured. */
export const UNMEASURED = {
  modulusPriorPa: null,
  densityKgPerM3: null,
  frequenciesHz: [null, null, null],
  isBare: true,
  stemLengthM: null,
  circumferenceM: 0.9,
  fixity: null,
} as const;
