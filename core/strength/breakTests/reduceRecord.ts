import { sectionModulus } from '../sectionModulus.ts';
import type { BreakTestField } from './breakTestFields.ts';
import type { BreakTestRecord } from './breakTestRecord.ts';
import { locateGreatestStress } from './locateGreatestStress.ts';
import { type PoleSizes, readSizes } from './poleSizes.ts';
import { type BendingSection, reduceBending } from './reduceBending.ts';
import { reduceCantilever } from './reduceCantilever.ts';
import { Refusal } from './refusal.ts';

export type TestKind = 'cantilever' | 'three-point' | 'four-point' | 'stated';

/** What a record says of strength, and how it came about. */
export type ReducedRecord = PoleSizes & {
  readonly kind: TestKind;
  /** What was broken: the pole, or a specimen cut from one, which is stronger. */
  readonly piece: 'pole' | 'specimen';
  readonly groundlineMomentNm: number;
  /** Stress where it broke. */
  readonly modulusOfRupturePa: number;
  /** Stress at ground line when it broke; null where no moment acted there. */
  readonly groundlineStressPa: number | null;
  /** Null where the table does not say. */
  readonly breakHeightM: number | null;
  /** Where a taper alone would have it break, and that stress over the one at ground line; null without a taper or a load arm. */
  readonly greatestStress: { readonly heightM: number; readonly overGroundline: number } | null;
  /** What a reader should know of this test, in plain sentences. */
  readonly remarks: readonly string[];
};

/** A stress or moment that is given beside a load may differ by so much from what follows from the load (ours). */
const AGREEMENT = 0.1;
/** A break where the stress was less than this share of the greatest was at a weak place (ours). */
const WEAK_PLACE_SHARE = 0.8;
const WEAKEST_PA = 5e6;
const STRONGEST_PA = 250e6;
const MPA = 1e6;
const ARM_HINT = 'Give the height of the load, or length, setting depth and the distance below the tip.';
const KIND_HINT = 'Write cantilever, three-point or four-point.';
/** Loads at the thirds of a span (third-point, 3rd points, 1/3) are four-point bending; loads at the quarters are neither. */
const KIND_WORDS = {
  'three-point': /three|(?<![\d./])3(?!\s*rd|[\d./])|cent(er|re)/,
  'four-point': /four(?!th)|(?<![\d./])4(?!\s*th|[\d./])|third|[12]\s*\/\s*3|(?<!\d)3\s*rd/,
} as const;
/** A round section thinner than this share of the ground line's, or than any pole there, was cut or turned (ours). */
const WHOLE_POLE_SHARE = 0.5;
const THINNEST_POLE_M = 0.12;

/** Remark on a cantilever whose arm is taken whole; {@link noteKeptTests} counts those that have it. */
export const ARM_NOT_SHORTENED =
  'By how much the arm had shortened when it broke is not stated: strength is too high by the share that it had.';

/**
 * Reduces a record to groundline moment and modulus of rupture, by the kind of its test: see {@link reduceCantilever} and
 * {@link reduceBending}; a stated moment or modulus of rupture serves where no load is given. Nothing is corrected for moisture: the moisture
 * of the test stays beside it as a predictor.
 * @throws Refusal naming the field, where figures are missing or contradict each other
 */
export function reduceRecord(record: BreakTestRecord): ReducedRecord {
  const sizes = readSizes(record);
  const reduced = record.figures.has('breakLoadN') ? reduceLoad(record, sizes) : takeStated(record, sizes);
  checkStated(record, reduced);
  const { modulusOfRupturePa } = reduced;
  if (!(modulusOfRupturePa >= WEAKEST_PA && modulusOfRupturePa <= STRONGEST_PA)) {
    throw new Refusal(
      record.figures.has('breakLoadN') ? 'breakLoadN' : 'groundlineMomentNm',
      `makes a modulus of rupture of ${formatMpa(modulusOfRupturePa)}, outside of ${WEAKEST_PA / MPA} to ${STRONGEST_PA / MPA} MPa`,
      'Check the units of load, arm and girth.',
    );
  }
  return reduced;
}

function reduceLoad(record: BreakTestRecord, sizes: PoleSizes): ReducedRecord {
  const kind = readKind(record, sizes);
  return kind === 'cantilever'
    ? reduceCantileverRecord(record, sizes)
    : reduceBendingRecord(record, sizes, kind);
}

function reduceCantileverRecord({ figures }: BreakTestRecord, sizes: PoleSizes): ReducedRecord {
  const { loadHeightM, circumferenceM } = sizes;
  if (loadHeightM === null) {
    throw new Refusal('breakLoadN', 'has no arm', ARM_HINT);
  }
  const armLossM = figures.get('armLossM') ?? 0;
  if (armLossM >= loadHeightM / 2) {
    throw new Refusal('armLossM', `takes half of the arm of ${loadHeightM} m or more`, 'Check its unit.');
  }
  const breakHeightM = figures.get('breakHeightM') ?? null;
  if (breakHeightM !== null && breakHeightM >= loadHeightM) {
    throw new Refusal(
      'breakHeightM',
      `is not below the load at ${loadHeightM.toFixed(2)} m`,
      'Heights count from ground line.',
    );
  }
  const breakCircumferenceM = findBreakCircumference(figures, sizes, breakHeightM);
  const reduced = reduceCantilever({
    loadN: figures.get('breakLoadN')!,
    loadHeightM,
    armLossM,
    groundlineCircumferenceM: circumferenceM,
    breakHeightM: breakHeightM ?? 0,
    breakCircumferenceM,
  });
  const greatestStress =
    sizes.circumferenceAtM &&
    locateGreatestStress({
      loadHeightM,
      groundlineDiameterM: circumferenceM / Math.PI,
      loadDiameterM: sizes.circumferenceAtM(loadHeightM) / Math.PI,
    });
  return {
    ...sizes,
    kind: 'cantilever',
    piece: 'pole',
    groundlineMomentNm: reduced.groundlineMomentNm,
    modulusOfRupturePa: reduced.breakStressPa,
    groundlineStressPa: reduced.groundlineStressPa,
    breakHeightM,
    greatestStress,
    remarks: [
      ...(figures.has('armLossM') ? [] : [ARM_NOT_SHORTENED]),
      ...remarkOnBreak(breakHeightM, reduced, greatestStress?.overGroundline ?? null),
    ],
  };
}

function findBreakCircumference(
  figures: BreakTestRecord['figures'],
  { circumferenceM, circumferenceAtM }: PoleSizes,
  breakHeightM: number | null,
): number {
  if (breakHeightM === null || breakHeightM <= 0) return circumferenceM;
  const diameterM = figures.get('breakDiameterM');
  const measuredM =
    figures.get('breakCircumferenceM') ?? (diameterM === undefined ? undefined : Math.PI * diameterM);
  if (measuredM !== undefined) return measuredM;
  if (circumferenceAtM) return circumferenceAtM(breakHeightM);
  throw new Refusal(
    'breakHeightM',
    'lies above ground line, and the girth there is not known',
    'Give the circumference at the break, or tip girth, length and setting depth.',
  );
}

function remarkOnBreak(
  breakHeightM: number | null,
  { groundlineStressPa, breakStressPa }: { groundlineStressPa: number; breakStressPa: number },
  overGroundline: number | null,
): string[] {
  if (breakHeightM === null) {
    return ['Where it broke is not stated: the modulus of rupture is taken at ground line.'];
  }
  if (breakHeightM < 0)
    return ['It broke below ground line: the modulus of rupture is taken at ground line.'];
  if (breakHeightM === 0) return [];
  const remarks = [
    `It broke ${breakHeightM.toFixed(2)} m above ground line, at ${formatMpa(breakStressPa)}; ground line stood ${formatMpa(groundlineStressPa)} and would have taken more.`,
  ];
  const share = overGroundline === null ? null : breakStressPa / (overGroundline * groundlineStressPa);
  if (share !== null && share < WEAK_PLACE_SHARE) {
    remarks.push(`The stress there was ${Math.round(100 * share)} % of the greatest by taper: a weak place.`);
  }
  return remarks;
}

function reduceBendingRecord(
  { figures }: BreakTestRecord,
  sizes: PoleSizes,
  kind: 'three-point' | 'four-point',
): ReducedRecord {
  const spanM = figures.get('spanM');
  if (spanM === undefined)
    throw new Refusal('breakLoadN', `of a ${kind} test has no span`, 'Give the span between the supports.');
  const loadFromSupportM = figures.get('loadFromSupportM');
  if (loadFromSupportM !== undefined && loadFromSupportM > spanM / 2) {
    throw new Refusal(
      'loadFromSupportM',
      `is more than half of the span of ${spanM} m`,
      'Give the distance to the nearer support.',
    );
  }
  const piece = pieceOf(figures, sizes);
  const { modulusOfRupturePa } = reduceBending({
    loadN: figures.get('breakLoadN')!,
    spanM,
    ...(loadFromSupportM !== undefined && { loadFromSupportM }),
    points: kind === 'three-point' ? 3 : 4,
    section: readSection(figures, sizes),
  });
  return {
    ...sizes,
    kind,
    piece,
    groundlineMomentNm: momentAtGroundline(modulusOfRupturePa, sizes),
    modulusOfRupturePa,
    groundlineStressPa: null,
    breakHeightM: null,
    greatestStress: null,
    remarks: [
      piece === 'specimen'
        ? 'Moment at ground line is that of its section at the modulus of rupture of the specimen; a small specimen is stronger than a pole.'
        : 'Moment at ground line is that of its section at the modulus of rupture of the bending test.',
    ],
  };
}

function pieceOf(figures: BreakTestRecord['figures'], { circumferenceM }: PoleSizes): ReducedRecord['piece'] {
  if (figures.has('sectionWidthM') || figures.has('sectionDepthM')) return 'specimen';
  const diameterM = figures.get('sectionDiameterM');
  const thinnestM = Math.max(THINNEST_POLE_M, (WHOLE_POLE_SHARE * circumferenceM) / Math.PI);
  return diameterM !== undefined && diameterM < thinnestM ? 'specimen' : 'pole';
}

function readSection(figures: BreakTestRecord['figures'], { circumferenceM }: PoleSizes): BendingSection {
  const widthM = figures.get('sectionWidthM');
  const depthM = figures.get('sectionDepthM');
  if (widthM !== undefined && depthM !== undefined) return { widthM, depthM };
  if (widthM !== undefined || depthM !== undefined) {
    throw new Refusal(
      widthM === undefined ? 'sectionDepthM' : 'sectionWidthM',
      'stands alone',
      'A square section needs width and depth; a round one its diameter.',
    );
  }
  return { diameterM: figures.get('sectionDiameterM') ?? circumferenceM / Math.PI };
}

function takeStated({ figures }: BreakTestRecord, sizes: PoleSizes): ReducedRecord {
  const momentNm = figures.get('groundlineMomentNm');
  const statedPa = figures.get('modulusOfRupturePa');
  if (momentNm === undefined && statedPa === undefined) {
    throw new Refusal(
      'breakLoadN',
      'is missing, and no moment or modulus of rupture is given',
      'Give one of the three.',
    );
  }
  const breakHeightM = figures.get('breakHeightM') ?? null;
  const groundlineStressPa =
    momentNm === undefined ? null : momentNm / sectionModulus(sizes.circumferenceM, null).sectionModulusM3;
  return {
    ...sizes,
    kind: 'stated',
    piece: pieceOf(figures, sizes),
    groundlineMomentNm: momentNm ?? momentAtGroundline(statedPa!, sizes),
    modulusOfRupturePa: statedPa ?? groundlineStressPa!,
    groundlineStressPa,
    breakHeightM,
    greatestStress: null,
    remarks:
      momentNm === undefined
        ? ['Moment at ground line is that of its section at the stated modulus of rupture.']
        : statedPa === undefined
          ? ['Modulus of rupture is the stress at ground line under the stated moment.']
          : [],
  };
}

function momentAtGroundline(stressPa: number, { circumferenceM }: PoleSizes): number {
  return stressPa * sectionModulus(circumferenceM, null).sectionModulusM3;
}

/** Refuses a stated moment or stress that does not follow from the other figures: a unit or a column was mistaken. */
function checkStated({ figures }: BreakTestRecord, reduced: ReducedRecord): void {
  const { kind, groundlineMomentNm, groundlineStressPa, modulusOfRupturePa, breakHeightM } = reduced;
  const momentNm = figures.get('groundlineMomentNm');
  if (kind === 'cantilever' && momentNm !== undefined && !agree(momentNm, groundlineMomentNm)) {
    refuseStated('groundlineMomentNm', `${(groundlineMomentNm / 1000).toFixed(1)} kN·m`);
  }
  const stressPa = figures.get('modulusOfRupturePa');
  if (stressPa === undefined) return;
  const atGroundline = groundlineStressPa !== null && agree(stressPa, groundlineStressPa);
  // the stress of a break above ground line does not follow from the moment at ground line alone
  const follows =
    kind === 'stated'
      ? momentNm === undefined || (breakHeightM ?? 0) > 0
      : agree(stressPa, modulusOfRupturePa);
  if (atGroundline || follows) return;
  refuseStated('modulusOfRupturePa', formatMpa(kind === 'stated' ? groundlineStressPa! : modulusOfRupturePa));
}

function agree(stated: number, computed: number): boolean {
  return Math.abs(stated / computed - 1) <= AGREEMENT;
}

function refuseStated(field: BreakTestField, computed: string): never {
  throw new Refusal(
    field,
    `does not agree with ${computed}, which follows from the other figures`,
    'One of the units or columns is mistaken; correct it, or pass over one of the columns.',
  );
}

function readKind(
  { texts, figures }: BreakTestRecord,
  { loadHeightM }: PoleSizes,
): Exclude<TestKind, 'stated'> {
  const text = texts.get('testKind')?.toLowerCase();
  if (text === undefined) {
    if (loadHeightM !== null) return 'cantilever';
    // the same load makes a half more stress at three points than at four
    if (figures.has('spanM')) {
      throw new Refusal('testKind', 'is missing, and the load has a span in place of an arm', KIND_HINT);
    }
    throw new Refusal('breakLoadN', 'has no arm', ARM_HINT);
  }
  if (/canti/.test(text)) return 'cantilever';
  const kinds = (['three-point', 'four-point'] as const).filter((kind) => KIND_WORDS[kind].test(text));
  if (kinds.length === 1) return kinds[0]!;
  throw new Refusal(
    'testKind',
    kinds.length === 0 ? 'is no kind of test that is known' : `may be ${kinds.join(' or ')}`,
    KIND_HINT,
  );
}

function formatMpa(stressPa: number): string {
  return `${(stressPa / MPA).toPrecision(3)} MPa`;
}
