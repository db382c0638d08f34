import type { PoleModel } from './inference/index.ts';
import type { VisitFile } from './recording/index.ts';
import {
  type ClassGirths,
  findClassGirths,
  findLowerCircumference,
  guessGirthSlip,
  isPoleClass,
} from './wood/index.ts';

export type GirthOffClass = {
  /** Another class, or a slip of the pen. */
  readonly isFar: boolean;
  /** No capacity rests on it: so far above that it would be a third too high, if the class is right, or a slip of writing. */
  readonly isRefused: boolean;
  /** The girth, those of the class, and the slip that would explain it, in sentences. */
  readonly words: string;
};

/** A girth this far from the class's least one, in share, is another class or a slip of the pen (ours). */
const GIRTH_SHARE = 0.25;
/** Below its class by this share a pole is worn, shaved or not of that class; a tape is good to a hundredth (ours). */
const GIRTH_THIN_SHARE = 0.05;
/** Above the next stronger class by this share; tape, ovality and taper explain no more (ours). */
const GIRTH_THICK_SHARE = 0.03;
/** This much above the greatest a capacity would be a third too high, if the class is right: two classes or more, or a slip of the pen (ours). */
const GIRTH_REFUSED_SHARE = 0.1;

const SLIP_WORDS = {
  diameter: ' That may be the diameter, written for the girth.',
  inches: ' That may be a figure in inches.',
  centimetres: ' That may be a figure in centimetres.',
} as const;

/** Holds the girth near the ground against the class of the pole; null where it is one of its class, or where none is known. */
export function judgeGirth(pole: VisitFile['pole'], model: PoleModel): GirthOffClass | null {
  const known = findUsualGirths(pole);
  if (!known) return null;
  const { usual, fromButtM } = known;
  const { leastM, mostM } = usual;
  const [groundM, tipM] = [model.shape.diametersM[0]!, model.shape.diametersM.at(-1)!];
  const share = (fromButtM - model.settingDepthM) / (model.lengthM - model.settingDepthM);
  const girthM = Math.PI * (groundM + (tipM - groundM) * share);
  const isFar = Math.abs(girthM / leastM - 1) >= GIRTH_SHARE;
  const isThin = girthM < (1 - GIRTH_THIN_SHARE) * leastM;
  const isThick = mostM !== null && girthM > (1 + GIRTH_THICK_SHARE) * mostM;
  if (!isFar && !isThin && !isThick) return null;
  const slip = guessGirthSlip(girthM, leastM);
  return {
    isFar,
    isRefused: slip !== null || (mostM !== null && girthM > (1 + GIRTH_REFUSED_SHARE) * mostM),
    words: `Girth near the ground is ${metres(girthM)}, where poles of class ${pole.classCode} of this length have ${tellRange(usual)}.${slip ? SLIP_WORDS[slip] : ''}`,
  };
}

/** Whether the class of a pole tells what girth it should have. */
export function isGirthJudged(pole: VisitFile['pole']): boolean {
  return findUsualGirths(pole) !== null;
}

/** Girths of the class near the ground, and how far from the butt; null where class or length does not tell. */
function findUsualGirths({ classCode, lengthM, species }: VisitFile['pole']) {
  if (classCode == null || !isPoleClass(classCode)) return null;
  const lower = findLowerCircumference(classCode, lengthM);
  const usual = lower && findClassGirths(classCode, lengthM, species, lower.fromButtM);
  return usual && { usual, fromButtM: lower.fromButtM };
}

function tellRange({ leastM, mostM, status }: ClassGirths): string {
  const range = mostM === null ? `from ${metres(leastM)} on` : `${metres(leastM)} to ${metres(mostM)}`;
  return `${range} (${status})`;
}

function metres(lengthM: number): string {
  return `${lengthM.toFixed(2)} m`;
}
