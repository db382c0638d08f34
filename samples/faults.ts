/** What can be wrong with a strike; a fault of the whole recording is listed at each of its strikes. */
export const FAULT_IDS = [
  'clipping',
  'double-blow',
  'low-level',
  'cut-short',
  'low-band-weak',
  'plane-weak',
  'mains-hum',
  'rattle',
  'drift',
  'corner-above-mode-1',
  'disagreement',
] as const;

export type FaultId = (typeof FAULT_IDS)[number];
