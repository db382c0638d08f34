export { explainPick } from './explainPick.ts';
export type { Explanation } from './explanation.ts';
export { Traced, TracedFrom, TracedResult } from './Traced.tsx';
