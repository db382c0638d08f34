export type GirthSlip = 'diameter' | 'inches' | 'centimetres';

/** Poles of a class are a tenth thicker than its least girth in the middle of them (ours). */
const USUAL_SHARE = 1.1;
/** A slip is named where its correction comes this near to what the class leads to expect. */
const NEAR = 0.15;
const CM_PER_INCH = 2.54;

/** What was written in place of a girth in its unit; null where no such slip explains it. @param leastM - least girth of the class there, m */
export function guessGirthSlip(girthM: number, leastM: number): GirthSlip | null {
  const isNear = (factor: number) => Math.abs((girthM * factor) / leastM - USUAL_SHARE) < NEAR;
  if (isNear(Math.PI)) return 'diameter';
  if (isNear(CM_PER_INCH)) return 'inches';
  return isNear(1 / CM_PER_INCH) ? 'centimetres' : null;
}
