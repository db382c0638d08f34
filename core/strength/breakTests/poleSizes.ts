import type { BreakTestField } from './breakTestFields.ts';
import type { BreakTestRecord } from './breakTestRecord.ts';
import { Refusal } from './refusal.ts';

/** Sizes of the pole that broke. */
export type PoleSizes = {
  readonly circumferenceM: number;
  /** Ground line to tip. */
  readonly stemLengthM: number | null;
  readonly loadHeightM: number | null;
  /** Circumference at a height above ground line by a straight taper; null where no tip girth or height is known. */
  readonly circumferenceAtM: ((heightM: number) => number) | null;
};

/** Girth and diameter of the same place may differ by so much: poles are not quite round (ours). */
const GIRTH_AGREEMENT = 0.05;
/** A pole's tip is no thicker than its ground line but for bumps, and no thinner than a fifth (ours). */
const THICKEST_TIP = 1.05;
const THINNEST_TIP = 0.2;
/** Girth at ground line over whole length: a slender pole has 0.03, a stout one 0.2 (ours, wide). */
const GIRTH_OVER_LENGTH = [0.015, 0.4] as const;
/** The load hangs at the tip at most; heights are told in rounded figures. */
const TIP_TOLERANCE_M = 0.1;

/** Reads the sizes of a record and holds them against each other. @throws Refusal */
export function readSizes({ figures }: BreakTestRecord): PoleSizes {
  const circumferenceM =
    readGirth(figures, 'groundlineCircumferenceM', 'groundlineDiameterM') ?? girthOfSection(figures);
  const tipCircumferenceM = readGirth(figures, 'tipCircumferenceM', 'tipDiameterM');
  const lengthM = figures.get('lengthM') ?? null;
  const settingDepthM = figures.get('settingDepthM') ?? null;
  checkGirths(circumferenceM, tipCircumferenceM, lengthM);
  if (lengthM !== null && settingDepthM !== null && settingDepthM >= lengthM / 2) {
    throw new Refusal(
      'settingDepthM',
      `is half of the length of ${lengthM} m or more`,
      'Check both and their units.',
    );
  }
  const stemLengthM = lengthM === null || settingDepthM === null ? null : lengthM - settingDepthM;
  const loadHeightM = readLoadHeight(figures, stemLengthM, lengthM);
  const circumferenceAtM =
    tipCircumferenceM === null || stemLengthM === null
      ? null
      : (heightM: number) => circumferenceM + ((tipCircumferenceM - circumferenceM) * heightM) / stemLengthM;
  return { circumferenceM, stemLengthM, loadHeightM, circumferenceAtM };
}

function readGirth(
  figures: BreakTestRecord['figures'],
  girthField: BreakTestField,
  diameterField: BreakTestField,
): number | null {
  const girthM = figures.get(girthField);
  const diameterM = figures.get(diameterField);
  if (girthM === undefined) return diameterM === undefined ? null : Math.PI * diameterM;
  if (diameterM !== undefined && Math.abs((Math.PI * diameterM) / girthM - 1) > GIRTH_AGREEMENT) {
    throw new Refusal(
      diameterField,
      `is not that of a girth of ${girthM.toFixed(3)} m`,
      'Check both and their units.',
    );
  }
  return girthM;
}

function girthOfSection(figures: BreakTestRecord['figures']): number {
  const diameterM = figures.get('sectionDiameterM');
  if (diameterM !== undefined) return Math.PI * diameterM;
  throw new Refusal(
    'groundlineCircumferenceM',
    'is missing',
    'Every test needs the girth or diameter of its pole at ground line.',
  );
}

function checkGirths(circumferenceM: number, tipCircumferenceM: number | null, lengthM: number | null): void {
  if (tipCircumferenceM !== null) {
    const share = tipCircumferenceM / circumferenceM;
    if (share > THICKEST_TIP || share < THINNEST_TIP) {
      throw new Refusal(
        'tipCircumferenceM',
        `makes a tip of ${Math.round(100 * share)} % of the girth at ground line`,
        'Check whether one is a diameter, and the units.',
      );
    }
  }
  if (lengthM === null) return;
  const share = circumferenceM / lengthM;
  if (share >= GIRTH_OVER_LENGTH[0] && share <= GIRTH_OVER_LENGTH[1]) return;
  throw new Refusal(
    'groundlineCircumferenceM',
    `of ${circumferenceM.toFixed(3)} m on ${lengthM.toFixed(2)} m of length is no pole's`,
    'Check whether it is a diameter, and the units.',
  );
}

function readLoadHeight(
  figures: BreakTestRecord['figures'],
  stemLengthM: number | null,
  lengthM: number | null,
): number | null {
  const belowTipM = figures.get('loadBelowTipM');
  const heightM =
    figures.get('loadHeightM') ??
    (belowTipM !== undefined && stemLengthM !== null ? stemLengthM - belowTipM : null);
  if (heightM === null) return null;
  const field = figures.has('loadHeightM') ? 'loadHeightM' : 'loadBelowTipM';
  if (!(heightM > 0))
    throw new Refusal(field, 'leaves the load no arm above ground line', 'Check the figure and its unit.');
  const highestM = stemLengthM ?? lengthM;
  if (highestM !== null && heightM > highestM + TIP_TOLERANCE_M) {
    throw new Refusal(
      field,
      `is above the tip, ${highestM.toFixed(2)} m over ground line`,
      'Heights count from ground line.',
    );
  }
  return heightM;
}
