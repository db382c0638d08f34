import type { AssessedMode, AssessedStrike, Assessment } from './assessment.ts';
import { type FrequencyTable, ratioFloor, type StemRootPosterior } from './inference/index.ts';
import type { VisitFile } from './recording/index.ts';

type Evidence = {
  readonly visit: VisitFile;
  readonly table: FrequencyTable;
  readonly strikes: readonly AssessedStrike[];
  readonly modes: readonly AssessedMode[];
  readonly posterior: StemRootPosterior | null;
  readonly root: Assessment['root'];
  readonly rivalProbability: number;
  readonly identifiability: {
    readonly verdict: string;
    readonly stem: number;
    readonly root: number;
    readonly advice: string;
  } | null;
};
type Finding = Assessment['findings'][number];

/** Chances from which something is worth a line (ours). */
const SOFT_ROOT_FROM = 0.5;
const ODD_PICK_FROM = 0.5;
const RIVAL_FROM = 0.05;
/** Intended depth: 10 % of length and 0.6 m (common practice, no source); this much less is shallow (ours). */
const SHALLOW_BY_M = 0.25;
/** A ratio f2/f1 this many deviations below the least that the model can show is beyond what its inputs explain. */
const RATIO_MARGIN_SD = 2;

/** What an analyst should know beside the numbers, most serious first, each in a sentence with what to do. */
export function listFindings(evidence: Evidence): Finding[] {
  return [
    findSoftRoot,
    findMisfit,
    findRatioBelowClamped,
    findOddPicks,
    findRival,
    findMissingFirstMode,
    findOneSided,
    findFaultyStrikes,
    findShallowSetting,
    findShell,
  ].flatMap((find) => find(evidence) ?? []);
}

function findSoftRoot({ root }: Evidence): Finding | null {
  const chance = root?.softRootChance ?? 0;
  if (chance < SOFT_ROOT_FROM) return null;
  return {
    id: 'soft-root',
    text: `Soft root (chance ${percent(chance)}): softer than its soil and depth explain. Poor backfill or loss of section at ground line; excavate and bore.`,
  };
}

function findMisfit({ posterior }: Evidence): Finding | null {
  if (!posterior || posterior.widening <= 1) return null;
  return {
    id: 'misfit',
    text: `The modes do not fit one stem and root: squared misfit is ${posterior.misfit?.toFixed(1)} times what is expected. Intervals are widened; check picks, attachments and cables.`,
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
        text: `f2/f1 of ${measured.toFixed(2)} at azimuth ${f1.azimuthDeg} degrees is below that of a rigid root (${limit.toFixed(2)}): the model is wrong for this pole, or a pick is. Check cables, masses and picks.`,
      };
    }
  }
  return null;
}

function findOddPicks({ modes }: Evidence): Finding[] {
  return modes
    .filter((mode) => (mode.oddChance ?? 0) > ODD_PICK_FROM)
    .map((mode) => ({
      id: 'odd-pick',
      text: `Mode ${mode.number} at azimuth ${mode.azimuthDeg} degrees (${mode.frequencyHz.value.toPrecision(4)} Hz) does not go with the others (chance ${percent(mode.oddChance!)}); it hardly counts in the result. Check the pick.`,
    }));
}

function findRival({ rivalProbability }: Evidence): Finding | null {
  if (rivalProbability < RIVAL_FROM) return null;
  return {
    id: 'rival-assignment',
    text: `Another reading of which peak is which mode has a chance of ${percent(rivalProbability)}. Confirm the mode numbers.`,
  };
}

function findMissingFirstMode({ modes, posterior }: Evidence): Finding | null {
  if (!posterior || modes.some((mode) => mode.number === 1)) return null;
  return {
    id: 'mode-1-missing',
    text: 'Mode 1 was not found, and the root rests on it. Strike again with the hand, long and soft, and record 10 s or more.',
  };
}

function findOneSided({ identifiability }: Evidence): Finding | null {
  if (identifiability?.verdict !== 'one-sided') return null;
  return {
    id: 'one-sided',
    text: `The modes tell ${identifiability.stem > identifiability.root ? 'the stem, hardly the root' : 'the root, hardly the stem'}. ${identifiability.advice}`,
  };
}

function findFaultyStrikes({ strikes }: Evidence): Finding | null {
  const faulty = strikes.filter((strike) => strike.verdict === 'repeat').length;
  if (faulty === 0) return null;
  return {
    id: 'faulty-strikes',
    text: `${faulty} of ${strikes.length} strikes cannot be used; see their checks.`,
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

function findShell({ visit }: Evidence): Finding | null {
  const shellM = visit.measured.shellThicknessM;
  if (shellM == null) return null;
  return {
    id: 'shell',
    text: `A sound shell of ${(100 * shellM).toFixed(1)} cm was bored at ground line; the section is reduced to it.`,
  };
}

function percent(chance: number): string {
  return `${Math.round(100 * chance)} %`;
}
