import { InputError } from '../errors.ts';
import type { ValueStatus } from './woods.ts';

const NEWTON_PER_POUND_FORCE = 4.4482216152605;
const METRE_PER_INCH = 0.0254;
const METRE_PER_FOOT = 0.3048;

/** The class load acts this far below the tip: 2 ft. */
export const CLASS_LOAD_BELOW_TIP_M = 2 * METRE_PER_FOOT;

/** The height at which the standard states the lower circumference: 6 ft above the butt. */
const LOWER_CIRCUMFERENCE_FROM_BUTT_M = 6 * METRE_PER_FOOT;

const CLASS_SOURCE =
  'ANSI O5.1 Wood Poles, Specifications and Dimensions: not read; class loads and tip circumferences from memory ' +
  'or public secondary pages. Check against the standard.';

const LOWER_CIRCUMFERENCE_SOURCE =
  'Least circumference 6 ft from the butt for southern pine, from the least breast-height diameters of a public ' +
  'table (Hawes 1947, pole specifications for southern pine), rounded to half inches. Check against ANSI O5.1.';

/** Class: load in lbf at 2 ft from the tip, least tip circumference in inches, and how far both can be trusted. */
const CLASSES: Readonly<Record<string, readonly [loadLbf: number, tipIn: number, status: ValueStatus]>> = {
  H6: [11400, 39, 'memory'],
  H5: [10000, 37, 'secondary'],
  H4: [8700, 35, 'memory'],
  H3: [7500, 33, 'memory'],
  H2: [6400, 31, 'memory'],
  H1: [5400, 29, 'secondary'],
  1: [4500, 27, 'secondary'],
  2: [3700, 25, 'memory'],
  3: [3000, 23, 'memory'],
  4: [2400, 21, 'memory'],
  5: [1900, 19, 'secondary'],
  6: [1500, 17, 'secondary'],
  7: [1200, 15, 'memory'],
  9: [740, 15, 'memory'],
  10: [370, 12, 'secondary'],
};

/** Length in ft: least circumferences 6 ft from the butt in inches for classes 1, 2, ... of southern pine. */
const LOWER_CIRCUMFERENCES_IN: Readonly<Record<number, readonly number[]>> = {
  20: [31, 29, 27, 25, 23, 21, 19.5],
  25: [33.5, 31.5, 29.5, 27.5, 25.5, 23, 21.5],
  30: [36.5, 34, 32, 29.5, 27.5, 25, 23.5],
  35: [39, 36.5, 34, 31.5, 29, 27, 25],
  40: [41, 38.5, 36, 33.5, 31, 28.5, 26.5],
  45: [43, 40.5, 37.5, 35, 32.5, 30, 28],
  50: [45, 42, 39, 36.5, 34, 31.5, 29],
  55: [46.5, 43.5, 40.5, 38, 35, 32.5],
  60: [48, 45, 42, 39, 36, 33.5],
  65: [49.5, 46, 43, 40.5, 37.5],
  70: [51, 48, 45, 41.5, 38.5],
  75: [52.5, 49, 46, 43],
  80: [54, 50.5, 47, 44],
  85: [55, 51.5, 48],
  90: [56, 53, 49],
  95: [57, 54, 50],
};

const LENGTH_STEP_FT = 5;

/** A length given in rounded metres (9.14, 12.2, 13.7) still means its length in feet. */
const LENGTH_TOLERANCE_FT = 0.5;

type PoleClass = {
  readonly code: string;
  readonly loadN: number;
  readonly leastTipCircumferenceM: number;
  readonly status: ValueStatus;
  readonly source: string;
};

/**
 * Finds a pole class by its code: H6 to H1, 1 to 7, 9, 10; upper or lower case.
 * @throws InputError `class.unknown`
 */
export function findPoleClass(classCode: string): PoleClass {
  const code = classCode.trim().toUpperCase();
  const row = isPoleClass(code) ? CLASSES[code] : undefined;
  if (!row) {
    throw new InputError(
      'class.unknown',
      `pole.classCode: "${classCode}" is no pole class; expected one of H6 to H1, 1 to 7, 9 or 10.`,
      "Correct the class, or leave it out and give the line's own requirement as a moment.",
    );
  }
  const [loadLbf, tipIn, status] = row;
  return {
    code,
    loadN: loadLbf * NEWTON_PER_POUND_FORCE,
    leastTipCircumferenceM: tipIn * METRE_PER_INCH,
    status,
    source: CLASS_SOURCE,
  };
}

/** Every pole class, the strongest first. */
export function listPoleClasses(): PoleClass[] {
  return Object.keys(CLASSES)
    .map(findPoleClass)
    .sort((a, b) => b.loadN - a.loadN);
}

/** Whether a code names a pole class, so that {@link findPoleClass} knows it. */
export function isPoleClass(classCode: string): boolean {
  return Object.hasOwn(CLASSES, classCode.trim().toUpperCase());
}

/**
 * Finds the least circumference near the ground line of a southern pine (or Douglas-fir) pole of a class, for a
 * prior of its taper. Other species are thicker for the same class.
 * @param lengthM - whole length; within half a foot of a multiple of 5 ft
 * @returns circumference and its distance from the butt in m, or null where the table has no row
 */
export function findLowerCircumference(
  classCode: string,
  lengthM: number,
): { circumferenceM: number; fromButtM: number; status: ValueStatus; source: string } | null {
  const lengthFt = lengthM / METRE_PER_FOOT;
  const rowFt = Math.round(lengthFt / LENGTH_STEP_FT) * LENGTH_STEP_FT;
  if (Math.abs(lengthFt - rowFt) > LENGTH_TOLERANCE_FT) return null;
  const circumferenceIn = LOWER_CIRCUMFERENCES_IN[rowFt]?.[Number(findPoleClass(classCode).code) - 1];
  if (circumferenceIn === undefined) return null;
  return {
    circumferenceM: circumferenceIn * METRE_PER_INCH,
    fromButtM: LOWER_CIRCUMFERENCE_FROM_BUTT_M,
    status: 'secondary',
    source: LOWER_CIRCUMFERENCE_SOURCE,
  };
}
