import {
  type ClassGirths,
  findClassGirths,
  guessGirthSlip,
  isPoleClass,
  isSpecies,
  judgeDensity,
  LONG_POLE_M,
} from '../wood/index.ts';
import type { Answers } from './answers.ts';
import type { AnswerValues, Problem } from './readAnswers.ts';
import { fromSi, QUANTITIES, UNITS, type UnitId, type UnitSystem } from './units.ts';

/*
 * Second looks: answers that can be taken and are odd beside each other. All limits are ours, wide enough for any sound
 * pole: they catch slips of unit, tape and pen.
 */

/** 10 % of the length and 0.6 m: common practice, no source. A crew rarely departs from it by more than this. */
const DEPTH_SHARE = 0.1;
const DEPTH_M = 0.6;
const DEPTH_DEPARTS_M = 0.6;
/**
 * A class states least girths: what is a tenth thinner is another class, worn or mistaken, and so is what would do for the class
 * above with some to spare. Where there is none above, half as thick again.
 */
const THIN = 0.88;
const THICK = 1.03;
const THICK_ALONE = 1.5;
const SLIPS = {
  diameter: { question: 'Is this the diameter?', unit: null },
  inches: { question: 'Was it in inches?', unit: 'in' },
  centimetres: { question: 'Was it in centimetres?', unit: 'cm' },
} as const;
/** Sensors are strapped where a person reaches (common practice, no source: about 2 m). */
const USUAL_SENSOR_M = 2;
const SENSOR_REACH_M = [1, 3.5] as const;
/** Axes of a sensor stand square to each other; this far off is a slip of writing. */
const SQUARE_DEG = 90;
const SQUARE_OFF_DEG = 20;
/** Wood in a pole is hardly drier, and above the fibre saturation of some 30 % it is wet to the touch. */
const MOISTURE_PERCENT = [8, 60] as const;
/** A shell reaches to the middle at most, and girths are taped above the ground line, where the pole is thinner. */
const SHELL_OVER_RADIUS = 1.1;

/** Says a length or girth in m, or a density in kg/m³, as a crew writes it. */
type Say = Readonly<Record<'length' | 'girth' | 'density', (valueSi: number) => string>>;

/**
 * Looks at answers beside each other.
 * @param answers - that the values were read from
 * @param today - year-month-day
 * @param units - that sentences are written in
 */
export function findDoubts(
  values: AnswerValues,
  answers: Answers,
  today: string,
  units: UnitSystem,
): Problem[] {
  const say = sayIn(units);
  return [
    ...doubtPole(values, answers, today, say),
    ...doubtDensity(values, say),
    ...doubtDepth(values, say),
    ...doubtGirths(values, answers, say),
    ...doubtHeights(values, say),
    ...doubtRecordings(values),
  ];
}

const odd = (field: string, words: string): Problem => ({ field, level: 'odd', words });

function doubtPole(
  { pole, measured, circumferences }: AnswerValues,
  answers: Answers,
  today: string,
  say: Say,
): Problem[] {
  const problems: Problem[] = [];
  if (pole.length !== null && pole.length > LONG_POLE_M) {
    const question = answers.pole.length.unit === 'ft' ? 'Is this its length?' : 'Was it in feet?';
    problems.push(odd('pole.length', `${say.length(pole.length)} is long for a pole. ${question}`));
  }
  if (pole.classCode !== null && !isPoleClass(pole.classCode)) {
    problems.push(
      odd(
        'pole.classCode',
        'No class of this name is known (H6 to H1, 1 to 7, 9, 10); a requirement cannot come from it.',
      ),
    );
  }
  if (measured.date !== null) {
    if (measured.date > today) problems.push(odd('measured.date', 'This day is still to come.'));
    if (pole.setYear !== null && pole.setYear > Number(measured.date.slice(0, 4))) {
      problems.push({
        field: 'pole.setYear',
        level: 'wrong',
        words: 'The pole was set after it was visited.',
      });
    }
  }
  const { moisture, shellThickness } = measured;
  if (moisture !== null && (moisture < MOISTURE_PERCENT[0] || moisture > MOISTURE_PERCENT[1])) {
    problems.push(
      odd(
        'measured.moisture',
        `Poles hold some ${MOISTURE_PERCENT[0]} to ${MOISTURE_PERCENT[1]} % as a rule.`,
      ),
    );
  }
  const girthM = Math.max(...circumferences.map(({ circumference }) => circumference ?? 0));
  if (
    shellThickness !== null &&
    girthM > 0 &&
    shellThickness > (SHELL_OVER_RADIUS * girthM) / (2 * Math.PI)
  ) {
    const radius = say.girth(girthM / (2 * Math.PI));
    problems.push(
      odd(
        'measured.shellThickness',
        `The pole is ${radius} from its middle to its face where it is thickest.`,
      ),
    );
  }
  return problems;
}

function doubtDensity({ pole, measured: { density, moisture } }: AnswerValues, say: Say): Problem[] {
  if (density === null || !isSpecies(pole.species)) return [];
  const off = judgeDensity(density, pole.species, moisture, { say: say.density });
  return off ? [odd('measured.density', `${off.words} ${off.advice}`)] : [];
}

/** Butt to tag, less the height of the tag, is what stands in the ground. */
function doubtDepth({ pole, measured }: AnswerValues, say: Say): Problem[] {
  const { length, buttToTag } = pole;
  const { tagHeight } = measured;
  const problems: Problem[] = [];
  if (length !== null && buttToTag !== null && buttToTag > length / 2) {
    problems.push(
      odd('pole.buttToTag', 'A tag sits in the lower half of a pole. Is this the distance from its butt?'),
    );
  }
  if (length !== null && tagHeight !== null && tagHeight > length / 2) {
    problems.push(
      odd('measured.tagHeight', 'A tag sits in the lower half of a pole. Is this its height above ground?'),
    );
  }
  if (buttToTag === null || tagHeight === null || length === null) return problems;
  const depthM = buttToTag - tagHeight;
  if (depthM <= 0) {
    const words = `The tag is ${say.length(tagHeight)} above ground and ${say.length(buttToTag)} from the butt, so the butt would not be in the ground. One of the two is wrong.`;
    return [...problems, { field: 'measured.tagHeight', level: 'wrong', words }];
  }
  const usualM = DEPTH_SHARE * length + DEPTH_M;
  if (Math.abs(depthM - usualM) > DEPTH_DEPARTS_M) {
    problems.push(
      odd(
        'measured.tagHeight',
        `Butt to tag less tag height gives ${say.length(depthM)} in the ground; a pole of this length is set about ${say.length(usualM)} deep.`,
      ),
    );
  }
  return problems;
}

function doubtGirths(values: AnswerValues, answers: Answers, say: Say): Problem[] {
  const problems: Problem[] = [];
  const rows = values.circumferences.map((row, i) => ({ ...row, i }));
  for (const { height, circumference, i } of rows) {
    const usual = height === null ? null : expectGirth(values, height);
    if (circumference === null || usual === null) continue;
    const words = nameSlip(circumference, usual, answers.circumferences[i]!.circumference.unit, say);
    if (words !== null) problems.push(odd(`circumferences.${i}.circumference`, words));
  }
  const tip = values.measured.topCircumference;
  if (tip !== null && rows.some(({ circumference }) => circumference !== null && circumference < tip)) {
    problems.push(odd('measured.topCircumference', 'The pole would be thicker at its tip than below.'));
  }
  for (const { height, circumference, i } of rows) {
    const higher = rows.find(
      (other) =>
        height !== null &&
        circumference !== null &&
        other.height !== null &&
        other.circumference !== null &&
        other.height > height &&
        other.circumference > circumference,
    );
    if (higher) {
      problems.push(
        odd(
          `circumferences.${i}.circumference`,
          `The pole would be thicker higher up, at ${say.length(higher.height!)}.`,
        ),
      );
    }
  }
  return problems;
}

/** Girths of the class at a height above ground, on a straight taper; null where class or length does not tell. */
function expectGirth({ pole, measured }: AnswerValues, heightM: number): ClassGirths | null {
  const { classCode, length, buttToTag, species } = pole;
  if (classCode === null || length === null || !isPoleClass(classCode)) return null;
  const { tagHeight } = measured;
  const depthM =
    buttToTag !== null && tagHeight !== null ? buttToTag - tagHeight : DEPTH_SHARE * length + DEPTH_M;
  return findClassGirths(classCode, length, isSpecies(species) ? species : 'other', heightM + depthM);
}

/** Words on a girth that the class does not lead to expect, with the slip that would explain it. */
function nameSlip(
  girthM: number,
  { leastM, mostM }: ClassGirths,
  unit: UnitId | null,
  say: Say,
): string | null {
  const thickM = mostM === null ? THICK_ALONE * leastM : THICK * mostM;
  if (girthM >= THIN * leastM && girthM <= thickM) return null;
  const guess = guessGirthSlip(girthM, leastM);
  // nobody mistook the unit that it was typed in
  const slip = guess !== null && SLIPS[guess].unit !== unit ? SLIPS[guess] : null;
  const range =
    mostM === null ? `at least ${say.girth(leastM)}` : `${say.girth(leastM)} to ${say.girth(mostM)}`;
  return `A pole of this class is ${range} round here, and this is ${say.girth(girthM)}. ${slip?.question ?? 'Check tape, class and height.'}`;
}

function doubtHeights(
  { pole, measured, circumferences, cables, attachments }: AnswerValues,
  say: Say,
): Problem[] {
  const problems: Problem[] = [];
  const { sensorHeight } = measured;
  if (sensorHeight !== null && (sensorHeight < SENSOR_REACH_M[0] || sensorHeight > SENSOR_REACH_M[1])) {
    problems.push(
      odd(
        'measured.sensorHeight',
        `Sensors are strapped about ${say.length(USUAL_SENSOR_M)} above ground, where a person reaches.`,
      ),
    );
  }
  if (pole.length === null) return problems;
  const heights: [string, number | null][] = [
    ['measured.sensorHeight', sensorHeight],
    ...circumferences.map((row, i): [string, number | null] => [`circumferences.${i}.height`, row.height]),
    ...cables.map((row, i): [string, number | null] => [`cables.${i}.height`, row.height]),
    ...attachments.map((row, i): [string, number | null] => [`attachments.${i}.height`, row.height]),
  ];
  for (const [field, heightM] of heights) {
    if (heightM === null || heightM < pole.length) continue;
    const words = `The pole is ${say.length(pole.length)} long with its butt in the ground; ${say.length(heightM)} is above its tip.`;
    problems.push({ field, level: 'wrong', words });
  }
  return problems;
}

function doubtRecordings({ recordings }: AnswerValues): Problem[] {
  const problems: Problem[] = [];
  recordings.forEach(({ channels }, r) => {
    const azimuths = channels.flatMap(({ azimuth }) => (azimuth === null ? [] : [azimuth]));
    const [first, second] = azimuths;
    if (channels.length === 1) {
      problems.push(odd(`recordings.${r}`, 'One axis alone tells of one bending plane only.'));
    }
    if (azimuths.length !== 2 || first === undefined || second === undefined) return;
    const apart = Math.abs(first - second) % 180;
    if (Math.abs(Math.min(apart, 180 - apart) - SQUARE_DEG) > SQUARE_OFF_DEG) {
      problems.push(
        odd(`recordings.${r}.channels.1.azimuth`, 'The two axes of a sensor stand square to each other.'),
      );
    }
  });
  const exciters = recordings.map(({ exciter }) => exciter);
  if (exciters.length > 0 && exciters.every((exciter) => exciter === 'hammer')) {
    problems.push(
      odd(
        'recordings',
        'There is no blow by hand among these. A hammer hardly moves mode 1, which the root shows best in.',
      ),
    );
  }
  return problems;
}

/** Figures for a sentence: two decimals of a length, one of a girth, none of a density, none that say nothing. */
function sayIn(units: UnitSystem): Say {
  const sayer = (quantity: keyof Say, decimals: number) => (valueSi: number) => {
    const unit = QUANTITIES[quantity][units];
    return `${Number(fromSi(valueSi, unit).toFixed(decimals))} ${UNITS[unit].symbol}`;
  };
  return { length: sayer('length', 2), girth: sayer('girth', 1), density: sayer('density', 0) };
}
