import type { VisitFile } from './recording/index.ts';

/** Whether a sound shell was bored at ground line and entered: nothing else that a visit states tells of the section there. */
export function isGroundLineInspected({ measured }: Pick<VisitFile, 'measured'>): boolean {
  return measured.shellThicknessM != null;
}
