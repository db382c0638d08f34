export { explainPick } from './explainPick.ts';
export { Traced, TracedFrom, TracedResult } from './Traced.tsx';
