import type { AssessedMode, AssessedStrike, Assessment } from './assessment.ts';
import type { OwnPick } from './compareWithProposal.ts';

import { displayUnitOf, formatChance, formatRange } from './formatNumbers.ts';
import {
  compareOwnPriors,
  type FrequencyTable,
  ODD_FROM,
  ratioFloor,
  type StemRootPosterior,
  type StemRootSummary,
} from './inference/index.ts';
import { isGirthJudged, judgeGirth } from './judgeGirth.ts';
import type { MovedPick } from './listMovedPicks.ts';
import type { ModeCandidate } from './modal/index.ts';
import { nameAzimuth } from './nameAzimuth.ts';
import { namePlane } from './namePlane.ts';
import { PRIOR_WORDS } from './priorWords.ts';
import type { VisitFile } from './recording/index.ts';
import { isPoleClass, judgeDensity, LONG_POLE_M } from './wood/index.ts';

type Evidence = {
  readonly visit: VisitFile;
  readonly table: FrequencyTable;
  readonly strikes: readonly AssessedStrike[];
  readonly modes: readonly AssessedMode[];
  /** What an analyst decided otherwise than proposed. */
  readonly ownPicks: readonly OwnPick[];
  /** Proposed picks that no longer count for that, each with the reason. */
  readonly dropped: readonly string[];
  /** Picks that are read elsewhere than they were set. */
  readonly moved: readonly MovedPick[];
  /** Accepted peaks that carry no number, though higher ones of their plane do. */
  readonly passedOver: readonly { readonly azimuthDeg: number; readonly frequencyHz: number }[];
  readonly furtherData: Assessment['furtherData'];
  readonly recordingWarnings: Assessment['recordingWarnings'];
  readonly posterior: StemRootPosterior | null;
  readonly root: Assessment['root'];
  /** Peaks that were proposed as mode 1 and that an analyst refused. */
  readonly refusedFirst: readonly ModeCandidate[];
  /** An accepted peak lies below all picks of its plane that count. */
  readonly isFirstUncounted: boolean;
  /** Of ln E from the median of the species' prior and of one that the visit sets, in that prior's standard deviations; null where nothing was fitted. */
  readonly stemDistances: {
    readonly species: number;
    readonly ownPrior: number | null;
    /** How far the visit's own prior draws ln E from where the species' prior leaves it, in standard deviations of the latter. */
    readonly drawn: number | null;
  } | null;
  readonly rivalProbability: number;
  readonly identifiability: StemRootSummary['identifiability'] | null;
};

/** A finding, and whether it forbids a strength. */
export type Finding = Assessment['findings'][number] & { readonly withholds?: true };

/** Chances from which something is worth a line (ours). */
const SOFT_ROOT_FROM = 0.5;
const RIVAL_FROM = 0.05;
/** Squared misfit a degree of freedom from which the model is wrong for the pole, and no interval of it counts (ours). */
const MISFIT_LIMIT = 6;
/** A stem this far from its species, or from a prior set for it, is worth a line, and beyond the second no pole of it (ours). */
const STEM_DISTANCE_SDS = 2;
const STEM_LIMIT_SDS = 3;
/**
 * The same where no class tells what girth the pole should have, so that the species alone holds girth and length: nearer on the soft
 * side, where the girth reads too large and the capacity, which goes with its cube, too high. By the prior one sound pole in 44 is as soft, one in 160 as stiff (ours).
 */
const UNCHECKED_LIMITS_SDS = { softer: 2, stiffer: 2.5 } as const;
/** A prior set by hand is told, and refused, from what it replaces: one sound pole in eighty, and in 370, is as far off (ours). */
const OWN_PRIOR_TOLD_SDS = 2.5;
const OWN_PRIOR_LIMIT_SDS = 3;
/** A prior set by hand draws a sound stem so far from what the recordings tell once in eighty times (ours). */
const DRAWN_LIMIT_SDS = 2.5;
/** What is said of a datum that is odd with more than even chance; such a one takes no part in most of the fit. */
const HARDLY_COUNTS = 'hardly counts in the result';
const METRE_PER_FOOT = 0.3048;
/** Intended depth: 10 % of length and 0.6 m (common practice, no source); this much less is shallow (ours). */
const SHALLOW_BY_M = 0.25;
/** A ratio f2/f1 this many deviations below the least that the model can show is beyond what its inputs explain. */
const RATIO_MARGIN_SD = 2;

/** What an analyst should know beside the numbers, each in a sentence with what to do; most serious first among those of one rank of `collectFindings`. */
export function listFindings(evidence: Evidence): Finding[] {
  return [
    findContradictedPriors,
    findSoftRoot,
    findRatioBelowClamped,
    findMisfit,
    findUnseenPicks,
    findOwnPicks,
    findPassedOver,
    findStemOutsideSpecies,
    findPriorAgainstData,
    findGirthOffClass,
    findGirthUnchecked,
    findDensityOffSpecies,
    findLongPole,
    findOddPicks,
    findMovedPicks,
    findOddData,
    findRival,
    findMissingFirstMode,
    findOneSided,
    findFaultyStrikes,
    findOverruledStrikes,
    findCutRecordings,
    findUnknownClass,
    findShallowSetting,
    findOwnPriors,
    findShell,
  ].flatMap((find) => find(evidence) ?? []);
}

const KNOWLEDGE_WORDS = {
  measured: { what: 'what was measured', range: 'measured' },
  species: { what: 'its species', range: 'tabulated' },
  usual: { what: 'what is usual', range: 'usual' },
} as const;

/**
 * A prior set by hand far from what it replaces: one of the two is wrong. What is usual of depths, soils and taper is no knowledge of
 * this pole, and it may well be beside it.
 */
function findContradictedPriors({ visit }: Evidence): Finding[] {
  return compareOwnPriors(visit).flatMap(({ set, replaced, knowledge, distanceSds: sds }) => {
    if (sds <= OWN_PRIOR_TOLD_SDS) return [];
    const unit = displayUnitOf(set.unit);
    const words = KNOWLEDGE_WORDS[knowledge];
    const text = `The ${set.name} set by hand contradicts ${words.what} (set ${formatRange(set, unit)}, ${words.range} ${formatRange(replaced, { ...unit, symbol: '' })}: ${sds.toFixed(1)} standard deviations apart).`;
    const advice = 'Correct the one that is wrong.';
    const isRefused = knowledge !== 'usual' && sds > OWN_PRIOR_LIMIT_SDS;
    return [
      { id: 'prior-contradicted', ...(isRefused ? withholdBy(text, advice) : { text: `${text} ${advice}` }) },
    ];
  });
}

function findSoftRoot({ root }: Evidence): Finding | null {
  const chance = root?.softRootChance ?? 0;
  if (chance < SOFT_ROOT_FROM) return null;
  return {
    id: 'soft-root',
    text: `Soft root (chance ${formatChance(chance)}): softer than its soil and depth explain. Poor backfill or loss of section at ground line; excavate and bore.`,
  };
}

/** That no strength is told, and what to do about it: the end of the text, and on its own among the next steps. */
function withholdBy(text: string, advice: string): Pick<Finding, 'text' | 'advice' | 'withholds'> {
  return { text: `${text} ${advice}`, advice, withholds: true };
}

function findMisfit({ posterior }: Evidence): Finding | null {
  if (!posterior || posterior.widening <= 1) return null;
  const misfit = posterior.misfit ?? posterior.widening;
  const text = `The data do not fit one stem and root: squared misfit is ${misfit.toFixed(1)} times what is expected.`;
  return misfit > MISFIT_LIMIT
    ? {
        id: 'misfit',
        ...withholdBy(
          `${text} The model is wrong for this pole, or a pick is.`,
          'Check picks, girths, attachments and cables.',
        ),
      }
    : { id: 'misfit', text: `${text} Intervals are widened; check picks, attachments and cables.` };
}

function findPassedOver({ passedOver }: Evidence): Finding | null {
  if (passedOver.length === 0) return null;
  const list = passedOver
    .map((p) => `${p.frequencyHz.toPrecision(3)} Hz at ${nameAzimuth(p.azimuthDeg)}`)
    .join(', ');
  return {
    id: 'peak-passed-over',
    ...withholdBy(
      `Clear peaks below or between the numbered modes belong to none: ${list}.`,
      'Girth, length or masses may be wrong, or the numbers. Correct them, number the peaks, or refuse them.',
    ),
  };
}

function findStemOutsideSpecies({ stemDistances, visit, table }: Evidence): Finding | null {
  if (!stemDistances) return null;
  const { species, ownPrior } = stemDistances;
  const isChecked = isGirthJudged(visit.pole);
  const side = species > 0 ? 'stiffer' : 'softer';
  const outside = [
    { sds: species, than: 'its species', limit: isChecked ? STEM_LIMIT_SDS : UNCHECKED_LIMITS_SDS[side] },
    { sds: ownPrior ?? 0, than: 'the prior set for it', limit: STEM_LIMIT_SDS },
  ].filter(({ sds }) => Math.abs(sds) >= STEM_DISTANCE_SDS);
  if (outside.length === 0) return null;
  const distances = outside.map(
    ({ sds, than }) =>
      `${Math.abs(sds).toFixed(1)} standard deviations ${sds > 0 ? 'stiffer' : 'softer'} than ${than}`,
  );
  const text = `The stem comes out ${distances.join(' and ')}.`;
  const checks = `girths, length, species${ownPrior === null ? ' and density' : ', density and the prior'}`;
  const advice = `Check ${checks}${visit.pole.classCode == null ? ', and give the class' : ''}.`;
  // a girth that is not of the class and a stem that is not of the species are one mistake seen twice
  const isWrong =
    outside.some(({ sds, limit }) => Math.abs(sds) >= limit) || judgeGirth(visit.pole, table.model)?.isFar;
  return {
    id: 'stem-outside-species',
    ...(isWrong ? withholdBy(text, advice) : { text: `${text} ${advice}` }),
  };
}

/** A prior so narrow that the recordings cannot speak against it is no measurement. */
function findPriorAgainstData({ stemDistances }: Evidence): Finding | null {
  const drawn = stemDistances?.drawn ?? 0;
  if (Math.abs(drawn) < DRAWN_LIMIT_SDS) return null;
  return {
    id: 'prior-against-data',
    ...withholdBy(
      `The prior set for the stem modulus makes the stem ${drawn > 0 ? 'stiffer' : 'softer'} by ${Math.abs(drawn).toFixed(1)} standard deviations of what the recordings tell without it.`,
      'Take it back or widen it, or find out which of the two is wrong.',
    ),
  };
}

function findGirthOffClass({ visit: { pole }, table: { model } }: Evidence): Finding | null {
  const girth = judgeGirth(pole, model);
  if (!girth) return null;
  return {
    id: 'girth-off-class',
    text: `${girth.words} Capacity goes with its cube, and modulus against its square: measure again, and check class and length.${girth.isRefused ? ' Until then no capacity is told.' : ''}`,
    ...(girth.isRefused && {
      advice: 'Measure the girth again, and check class and length.',
      withholds: true,
    }),
  };
}

/** Capacity goes with the cube of the girth, and nothing but a class holds that. */
function findGirthUnchecked({ visit, posterior }: Evidence): Finding | null {
  if (!posterior || isGirthJudged(visit.pole)) return null;
  return {
    id: 'girth-unchecked',
    text: 'No class tells what girth this pole should have, and one a tenth too large makes the capacity up to a third too high. Tape it again, and state the class.',
  };
}

/** Frequencies tell modulus over density, so that the modulus and what follows from it go with the density. One set by hand stands in for it. */
function findDensityOffSpecies({ visit: { pole, measured, options } }: Evidence): Finding | null {
  const { densityKgPerM3, moisturePercent } = measured;
  // where none was measured, one set by hand is held against its species as every prior is
  if (densityKgPerM3 == null) return null;
  const own = options.priors?.densityKgPerM3?.median;
  const off = judgeDensity(own ?? densityKgPerM3, pole.species, moisturePercent ?? null, {
    isSetByHand: own !== undefined,
  });
  if (!off) return null;
  const { words, advice, isRefused } = off;
  return {
    id: 'density-off-species',
    ...(isRefused ? withholdBy(words, advice) : { text: `${words} ${advice}` }),
  };
}

/** Longer ones are made; a length read in feet as metres is more often the reason. */
function findLongPole({ visit: { pole } }: Evidence): Finding | null {
  if (pole.lengthM <= LONG_POLE_M) return null;
  return {
    id: 'long-pole',
    text: `Length is ${pole.lengthM.toFixed(1)} m, which is long for a pole; ${(pole.lengthM * METRE_PER_FOOT).toFixed(1)} m where it was in feet. Check pole.lengthM: frequencies go with its square.`,
  };
}

function findCutRecordings({ recordingWarnings }: Evidence): Finding[] {
  return recordingWarnings
    .filter(({ code }) => code === 'wav.cut-short')
    .map(({ text }) => ({
      id: 'recording-cut',
      text: `${text} Strikes may be missing; copy the file again.`,
    }));
}

function findUnknownClass({ visit: { pole, requirement } }: Evidence): Finding | null {
  if (pole.classCode == null || isPoleClass(pole.classCode)) return null;
  return {
    id: 'class-unknown',
    text: `"${pole.classCode}" is no pole class of ANSI O5.1${requirement ? '' : ', so there is no requirement to compare with'}. Correct pole.classCode.`,
  };
}

function findRatioBelowClamped({ modes, table, posterior }: Evidence): Finding | null {
  if (!posterior) return null;
  for (let plane = 0; plane < table.azimuthsDeg.length; plane++) {
    const [f1, f2] = [1, 2].map((number) => modes.find((m) => m.plane === plane && m.number === number));
    if (!f1 || !f2) continue;
    const measured = f2.frequencyHz.value / f1.frequencyHz.value;
    const floor = ratioFloor(table, plane);
    const limit = Math.exp(floor.lnRatio);
    if (Math.log(measured) < floor.lnRatio - RATIO_MARGIN_SD * floor.sd) {
      return {
        id: 'ratio-below-clamped',
        ...withholdBy(
          `f2/f1 of ${measured.toFixed(2)} in ${namePlane(f1.plane, f1.azimuthDeg)} is below that of a rigid root (${limit.toFixed(2)}): the model is wrong for this pole, or a pick is.`,
          'Check cables, masses and picks.',
        ),
        modes: [f1, f2].map(nameMode),
      };
    }
  }
  return null;
}

function findOddPicks({ modes }: Evidence): Finding[] {
  return modes.filter(isOdd).map((mode) => ({
    id: 'odd-pick',
    text: `Mode ${mode.number} of ${namePlane(mode.plane, mode.azimuthDeg)} (${mode.frequencyHz.value.toPrecision(4)} Hz) does not go with the others (chance ${formatChance(mode.oddChance!)}); it ${HARDLY_COUNTS}. Check the pick.`,
    modes: [nameMode(mode)],
  }));
}

/** One that neither a strike nor the other picks bear out is a slip, and keeps a seen peak from its number: nothing is told while it stands. */
function findUnseenPicks({ modes }: Evidence): Finding[] {
  return modes
    .filter((mode) => mode.strikes === 0)
    .map((mode) => {
      const text = `Mode ${mode.number} of ${namePlane(mode.plane, mode.azimuthDeg)} stands where it was set by hand (${mode.frequencyHz.value.toPrecision(4)} Hz): no strike shows a mode there`;
      return {
        id: 'pick-not-seen',
        ...(isOdd(mode)
          ? withholdBy(
              `${text}, and the other picks speak against it.`,
              'Set it on a peak, or leave it to the program.',
            )
          : { text: `${text}.` }),
        modes: [nameMode(mode)],
      };
    });
}

/** A pick is stored by its frequency, and found again in the strikes that are used now; its row says so by itself. */
function findMovedPicks({ moved }: Evidence): Finding[] {
  return moved.map(({ plane, azimuthDeg, number, setHz, frequencyHz }) => ({
    id: 'pick-moved',
    text: `Mode ${number} of ${namePlane(plane, azimuthDeg)} was set at ${setHz.toPrecision(4)} Hz and is now found at ${frequencyHz.toPrecision(4)} Hz, the nearest mode in the strikes that are used. Set it anew if that is not what was meant.`,
  }));
}

/** What an analyst set against the proposal, what no longer counts for it, and how much of the result hangs on that. */
function findOwnPicks({ ownPicks, dropped, modes }: Evidence): Finding | null {
  if (ownPicks.length === 0) return null;
  const modeOf = ({ set }: OwnPick) =>
    modes.find((mode) => set && mode.plane === set.plane && mode.number === set.number);
  const isWeak = (pick: OwnPick) => isOdd(modeOf(pick));
  const list = ownPicks.map((pick) => (isWeak(pick) ? `${pick.words} (it ${HARDLY_COUNTS})` : pick.words));
  const decided = `An analyst decided otherwise than proposed: ${list.join('; ')}.`;
  const lost = dropped.length > 0 ? ` Proposed picks that no longer count: ${dropped.join('; ')}.` : '';
  const advice = 'Check what was decided, or leave it to the program.';
  const id = 'own-picks';
  if (modes.length === 0)
    return { id, ...withholdBy(`${decided}${lost} No pick is left that counts.`, advice) };
  const named = lost !== '' && { modes: ownPicks.flatMap((pick) => modeOf(pick) ?? []).map(nameMode) };
  // one that the others speak against keeps peaks that were seen from counting: a slip, however well the rest fits
  if (lost && ownPicks.some(isWeak)) return { id, ...withholdBy(`${decided}${lost}`, advice), ...named };
  const isAlone = lost !== '' && modes.every(({ source }) => source === 'analyst');
  const rests = ownPicks.every(isWeak)
    ? ''
    : isAlone
      ? ' The result rests on nothing but that.'
      : ' The result rests on that.';
  return {
    id,
    text: `${decided}${lost}${rests}${lost && ` ${advice}`}`,
    ...named,
  };
}

function isOdd(mode: AssessedMode | undefined): boolean {
  return (mode?.oddChance ?? 0) > ODD_FROM;
}

function findOddData({ furtherData }: Evidence): Finding[] {
  return furtherData
    .filter((datum) => datum.oddChance > ODD_FROM)
    .map((datum) => ({
      id: 'odd-datum',
      text: `The ${datum.name} contradicts the rest (${datum.residual.toFixed(1)} standard deviations) and ${HARDLY_COUNTS}. Check its heights, units and readings.`,
    }));
}

function findRival({ rivalProbability }: Evidence): Finding | null {
  if (rivalProbability < RIVAL_FROM) return null;
  return {
    id: 'rival-assignment',
    text: `Another reading of which peak is which mode has a chance of ${formatChance(rivalProbability)}. Confirm the mode numbers.`,
  };
}

function findMissingFirstMode({
  modes,
  posterior,
  refusedFirst,
  isFirstUncounted,
}: Evidence): Finding | null {
  if (!posterior || modes.some((mode) => mode.number === 1)) return null;
  if (refusedFirst.length > 0) {
    const list = refusedFirst.map(
      ({ plane, azimuthDeg, frequencyHz }) =>
        `${frequencyHz.value.toPrecision(4)} Hz in ${namePlane(plane, azimuthDeg)}`,
    );
    return {
      id: 'mode-1-missing',
      text: `Mode 1 was refused by an analyst (${list.join(', ')}), and the root rests on it. Take that back, unless it is no mode of the pole.`,
    };
  }
  return {
    id: 'mode-1-missing',
    text: isFirstUncounted
      ? 'Mode 1 is not counted, and the root rests on it. A clear peak lies below the modes that are: check priors, length and girths, or number it.'
      : 'Mode 1 was not found, and the root rests on it. Strike again with the hand, long and soft, and record 10 s or more.',
  };
}

function findOneSided({ identifiability }: Evidence): Finding | null {
  if (identifiability?.verdict !== 'one-sided') return null;
  const { stemTold, rootTold, advice } = identifiability;
  const id = 'one-sided';
  // a strength on a stem that is not told would be that of the species
  if (!stemTold) return { id, ...withholdBy('The data tell the root, hardly the stem.', advice) };
  // both told: as far as it is known how the pole is held, which the advice says
  return { id, text: rootTold ? advice : `The data tell the stem, hardly the root. ${advice}` };
}

function findFaultyStrikes({ strikes }: Evidence): Finding | null {
  const faulty = strikes.filter((strike) => strike.verdict === 'repeat' && !strike.overruled?.use).length;
  if (faulty === 0) return null;
  return {
    id: 'faulty-strikes',
    text: `${faulty} of ${strikes.length} strikes cannot be used; see their checks.`,
  };
}

function findOverruledStrikes({ strikes }: Evidence): Finding | null {
  const overruled = strikes.flatMap(({ overruled: by, verdict }) =>
    by && by.use !== (verdict !== 'repeat') ? [by] : [],
  );
  if (overruled.length === 0) return null;
  const words = overruled.map(({ use, reason }) => `${use ? 'used' : 'left out'}: ${reason}`);
  return {
    id: 'strikes-overruled',
    text: `An analyst overruled the checks of ${overruled.length} of ${strikes.length} strikes (${words.join('; ')}).`,
  };
}

function findShallowSetting({ table, visit }: Evidence): Finding | null {
  const { buttToTagM, lengthM } = visit.pole;
  if (buttToTagM == null || visit.measured.tagHeightM == null) return null;
  const intendedM = 0.1 * lengthM + 0.6;
  const depthM = table.model.settingDepthM;
  if (depthM > intendedM - SHALLOW_BY_M) return null;
  return {
    id: 'shallow-setting',
    text: `Setting depth is ${depthM.toFixed(2)} m, where 10 % of length and 0.6 m ask for ${intendedM.toFixed(2)} m: soil lost, or set short. Check the tag height and the ground.`,
  };
}

function findOwnPriors({ visit }: Evidence): Finding | null {
  const names = Object.keys(visit.options.priors ?? {}) as (keyof typeof PRIOR_WORDS)[];
  if (names.length === 0) return null;
  return {
    id: 'own-prior',
    text: `Priors of the visit's own stand in for what was measured or is tabulated: ${names.map((name) => PRIOR_WORDS[name]).join(', ')}.`,
  };
}

/** The section at ground line: what was bored, or that nobody looked. */
function findShell({ visit, table: { model }, posterior }: Evidence): Finding | null {
  const shellM = visit.measured.shellThicknessM;
  if (shellM == null) {
    if (!posterior) return null;
    return {
      id: 'section-not-inspected',
      text: 'The section at ground line was not inspected. Capacity is that of sound wood there; decay that takes half of it can leave every frequency as it is. Sound, bore and excavate.',
    };
  }
  const solid = shellM >= model.shape.diametersM[0]! / 2;
  return {
    id: 'shell',
    text: solid
      ? 'Sound wood was bored to the middle at ground line; the section is taken as solid.'
      : `A sound shell of ${(100 * shellM).toFixed(1)} cm was bored at ground line; the section is reduced to it.`,
  };
}

function nameMode({ plane, number }: AssessedMode): { plane: number; number: number } {
  return { plane, number };
}
