/** What can be wrong with a strike, in the words of the program's checks; a fault of the whole recording is listed at each of its strikes. */
export const FAULT_IDS = [
  'clipping',
  'double-blow',
  'noise',
  'cut-short',
  'low-band',
  'weak-plane',
  'mains-hum',
  'rattle',
  'offset',
  'corner',
  'repeatability',
] as const;

export type FaultId = (typeof FAULT_IDS)[number];
