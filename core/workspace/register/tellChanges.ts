import type { Assessment } from '../../assessment.ts';
import { type DisplayUnit, formatNumber, formatQuantity, tellRatio, UNITS } from '../../formatNumbers.ts';
import { spreadOf } from '../../gatherPredictors.ts';
import { namePlane } from '../../namePlane.ts';
import { CHANGED } from '../../speakAgainstKeeping.ts';
import type { KeptMode } from '../keepModes.ts';
import type { ResultSummary } from '../summarise.ts';

export type DatedSummary = { readonly date: string; readonly summary: ComparedSummary };

/** What of a result is compared. */
export type ComparedSummary = Pick<
  ResultSummary,
  'withheldBy' | 'modulusIntervalPa' | 'fixityInterval' | 'capacityNm' | 'modes'
>;

export type Changes = {
  /** In short, as the register gives it as a reason to look. */
  readonly words: string;
  /** The same in full, for the result itself. */
  readonly finding: Assessment['findings'][number];
};

type Comparison = {
  readonly name: string;
  /** Now over then. */
  readonly ratio: number;
  /** Whether it differs by more than measuring again explains. */
  readonly isTold: boolean;
  /** What it was and is, with its unit. */
  readonly fromTo: string;
  /** Frequencies are measured, and all else is fitted. */
  readonly isFrequency: boolean;
};

/** What is told of one earlier visit. */
type Told = {
  readonly date: string;
  /** Frequencies first, which are measured. */
  readonly changes: readonly Comparison[];
  /** How many frequencies were compared with it. */
  readonly frequencies: number;
};

/** A difference this many joint standard deviations wide is told (ours). */
const TOLD_FROM_SDS = 2;
/**
 * More than measuring again explains: frequencies of an unchanged pole repeat within a percent or two (common practice, no source).
 * Frost, drier wood or ground can move them by more than this (from memory, no source); what is told says so.
 */
const TOLD_FREQUENCY_SHARE = 0.05;
/**
 * Planes this close are compared (ours). Sensors are set by eye or compass, some 10 degrees off at each visit; one that stands 20
 * degrees off still takes up cos 20° = 94 % of the plane's motion, and a third of the motion of the plane across it.
 */
const ALIKE_WITHIN_DEG = 20;
const HALF_TURN_DEG = 180;

const FREQUENCY_RULE =
  `From ${100 * TOLD_FREQUENCY_SHARE} % on a frequency differs by more than measuring again explains. Frost, drier wood or drier ground ` +
  'raise it by as much, and it falls again after them: compare at like season and moisture.';
const INTERVAL_RULE =
  'E, fixity and capacity are told where they differ by more than twice the joint uncertainty of the two results.';

const ADVICE = {
  fell: 'Frequencies fall where section or soil is lost at ground line, where wood softens, and where weight was added. Excavate, sound and bore, and compare what hangs on the pole.',
  rose: 'A pole does not grow stronger: look for frozen or drier ground, for weight or cables taken away, and for a measurement that was made otherwise.',
  other: 'Compare girths, heights, moisture, cables and picks of these visits before anything is made of it.',
};

/**
 * What differs from earlier visits to the same pole by more than measuring again explains; null where nothing does. Each figure
 * is compared with the last visit that has it and with the first, so that neither a slow fall nor a sudden one stays silent; visits
 * that a fall is told of come first. Frequencies are compared within like planes only: a fall in one plane, as decay on one side makes
 * it, is not thinned by the other. Of a result that the chain withholds only frequencies count. All results rest on the same priors,
 * so a real change of the others shows later here than it could.
 * @param earlier - visits with a result, by date
 */
export function tellChanges(earlier: readonly DatedSummary[], now: ComparedSummary): Changes | null {
  const comparisons = earlier.map(({ summary }) => compare(summary, now));
  const told = earlier
    .map(
      ({ date }, i): Told => ({
        date,
        changes: comparisons[i]!.filter(({ name, isTold }) => {
          const isThis = (some: readonly Comparison[]) => some.some((other) => other.name === name);
          return isTold && (i === comparisons.findIndex(isThis) || i === comparisons.findLastIndex(isThis));
        }),
        frequencies: comparisons[i]!.filter(isFrequency).length,
      }),
    )
    .filter(({ changes }) => changes.length > 0)
    .reverse()
    .sort((a, b) => Number(b.changes.some(isLower)) - Number(a.changes.some(isLower)));
  if (told.length === 0) return null;
  return {
    words: told.map((visit) => `${tellShort(visit).join(', ')} than on ${visit.date}`).join('; '),
    finding: { id: CHANGED, text: [...told.map(tellVisit), ...explain(told)].join(' ') },
  };
}

function compare(before: ComparedSummary, now: ComparedSummary): Comparison[] {
  const isFitCompared = before.withheldBy !== 'chain' && now.withheldBy !== 'chain';
  return [
    ...now.modes.flatMap((mode) => compareModes(before.modes, mode)),
    ...(isFitCompared
      ? [
          ...compareIntervals('E', UNITS.gigapascal, before.modulusIntervalPa, now.modulusIntervalPa),
          ...compareIntervals('fixity', UNITS.none, before.fixityInterval, now.fixityInterval),
          ...compareIntervals('capacity', UNITS.kilonewtonMetre, before.capacityNm, now.capacityNm),
        ]
      : []),
  ];
}

function compareIntervals(
  name: string,
  unit: DisplayUnit,
  before: ResultSummary['capacityNm'],
  now: ResultSummary['capacityNm'],
): Comparison[] {
  // an interval that reaches zero says nothing of a ratio
  if (!before || !now || before.low <= 0 || now.low <= 0) return [];
  const ratio = now.value / before.value;
  const sd = Math.hypot(spreadOf(before), spreadOf(now));
  return [
    {
      name,
      ratio,
      isTold: Math.abs(Math.log(ratio)) > TOLD_FROM_SDS * sd,
      fromTo: `${formatNumber(before.value / unit.scale)} to ${formatQuantity(now.value, unit)}`,
      isFrequency: false,
    },
  ];
}

/** A mode against the same one of the plane that lies nearest to its own. */
function compareModes(before: readonly KeptMode[], now: KeptMode): Comparison[] {
  const [then] = before
    .filter((mode) => mode.number === now.number && angleBetween(mode, now) <= ALIKE_WITHIN_DEG)
    .sort((a, b) => angleBetween(a, now) - angleBetween(b, now));
  if (!then) return [];
  const ratio = now.frequencyHz / then.frequencyHz;
  return [
    {
      name: `f${now.number} of ${namePlane(now.plane, now.azimuthDeg)}`,
      ratio,
      isTold: Math.abs(ratio - 1) >= TOLD_FREQUENCY_SHARE,
      fromTo: `${then.frequencyHz.toFixed(2)} to ${now.frequencyHz.toFixed(2)} Hz`,
      isFrequency: true,
    },
  ];
}

/** Between two planes, 0 to 90 degrees. */
function angleBetween(a: KeptMode, b: KeptMode): number {
  const turn = Math.abs(a.azimuthDeg - b.azimuthDeg) % HALF_TURN_DEG;
  return Math.min(turn, HALF_TURN_DEG - turn);
}

/** Frequencies that fell in one range, those that rose in another, so that a row has room for its other reasons. */
function tellShort({ changes, frequencies }: Told): string[] {
  const moved = changes.filter(isFrequency);
  return [
    ...foldFrequencies(moved.filter(isLower), frequencies),
    ...foldFrequencies(
      moved.filter((change) => !isLower(change)),
      frequencies,
    ),
    ...changes.filter((change) => !isFrequency(change)).map(tellShare),
  ];
}

/** @param compared - how many frequencies there are in all */
function foldFrequencies(alike: readonly Comparison[], compared: number): string[] {
  if (alike.length < 2) return alike.map(tellShare);
  const percents = alike.map(({ ratio }) => Math.round(100 * Math.abs(ratio - 1)));
  const [least, most] = [Math.min(...percents), Math.max(...percents)];
  const name = alike.length === compared ? 'all' : `${alike.length} of ${compared}`;
  const range = least === most ? most : `${least} to ${most}`;
  return [`${name} frequencies ${range} % ${alike.every(isLower) ? 'lower' : 'higher'}`];
}

function tellVisit({ date, changes }: Told): string {
  const moved = changes.map((change) => `${tellShare(change)} (${change.fromTo})`);
  return `Compared with the visit of ${date}: ${moved.join(', ')}.`;
}

/** By which rules that was told, and what to do. */
function explain(told: readonly Told[]): string[] {
  const all = told.flatMap(({ changes }) => changes);
  const frequencies = all.filter(isFrequency);
  const rules = [
    ...(frequencies.length > 0 ? [FREQUENCY_RULE] : []),
    ...(frequencies.length < all.length ? [INTERVAL_RULE] : []),
  ];
  if (frequencies.length === 0) return [...rules, ADVICE.other];
  return [
    ...rules,
    ...(frequencies.some(isLower) ? [ADVICE.fell] : []),
    ...(frequencies.every(isLower) ? [] : [ADVICE.rose]),
  ];
}

function isFrequency(change: Comparison): boolean {
  return change.isFrequency;
}

function isLower({ ratio }: Comparison): boolean {
  return ratio < 1;
}

function tellShare({ name, ratio }: Pick<Comparison, 'name' | 'ratio'>): string {
  return `${name} ${tellRatio(ratio)}`;
}
