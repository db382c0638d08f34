import {
  type ClassCode,
  estimateSettingDepthM,
  LOAD_BELOW_TIP_M,
  type SampleSpecies,
} from './poleClasses.ts';
import { drawPoleShape, type PoleShape } from './poleShape.ts';
import { createRandomStream, type RandomStream } from './random.ts';
import {
  computeRootStiffness,
  GRAVITY_M_PER_S2,
  type PoleModel,
  SHEAR_OF_WOOD,
  solvePlane,
} from './simulator/index.ts';
import { drawWood } from './wood.ts';

const POLES = 60;
/** Of five series drawn, the one in which modulus and strength go together by about 0.5 in every species. */
const SERIES = 'E';
const SPECIES: readonly SampleSpecies[] = ['southern-pine', 'douglas-fir', 'western-redcedar'];
const TREATMENTS = ['creosote', 'penta', 'CCA'];
const CLASS_CODES: readonly ClassCode[] = ['3', '4', '5', '6'];
const LENGTHS_M = [9.14, 10.67, 12.19] as const;
const SOIL_N_PER_M3 = [8e6, 35e6] as const;
/** How well the vibration test before the break saw its pole (assumption). */
const FREQUENCY_SPREAD = 0.005;
const MODULUS_SPREAD = 0.05;
const FIXITY_SPREAD = 0.2;
const CIRCUMFERENCE_SPREAD = 0.003;
const MODES = 3;
const HIGHEST_MODE_HZ = 80;
/** Strength along one shaft: knots make weak places (assumption). */
const ALONG_SPREAD = 0.05;
const BREAK_STEP_M = 0.25;
const HIGHEST_BREAK_SHARE = 0.8;
const MESH = { above: 24, below: 8 };

const HEADER =
  'pole_id,species,treatment,age_years,length_m,setting_depth_m,groundline_circumference_m,tip_circumference_m,' +
  'load_height_m,break_load_n,break_height_m,stem_modulus_gpa,f1_hz,f2_hz,f3_hz,fixity,moisture_percent';

/**
 * Makes the table of an invented series of poles that were rung and then broken by a rope 0.61 m below the tip
 * (cantilever test in the manner of ASTM D1036, heights above ground line).
 */
export function makeBreakTests(): string {
  const rows = Array.from({ length: POLES }, (_, index) => writeRow(breakPole('KB', SERIES, index)));
  return `${[HEADER, ...rows].join('\n')}\n`;
}

function writeRow(pole: BrokenPole): string {
  return [
    pole.id,
    pole.species,
    pole.treatment,
    pole.ageYears,
    pole.lengthM,
    pole.settingDepthM.toFixed(2),
    pole.groundlineCircumferenceM.toFixed(3),
    pole.tipCircumferenceM.toFixed(3),
    pole.loadHeightM.toFixed(2),
    pole.breakLoadN.toFixed(0),
    pole.breakHeightM.toFixed(2),
    (pole.modulusPa / 1e9).toFixed(2),
    ...pole.frequenciesHz.map((frequencyHz) => frequencyHz.toFixed(3)),
    pole.fixity.toFixed(1),
    pole.moisturePercent.toFixed(0),
  ].join(',');
}

/** A pole as its crew measured it before the break, and what broke it. */
export type BrokenPole = {
  readonly id: string;
  readonly species: SampleSpecies;
  readonly treatment: string;
  readonly ageYears: number;
  readonly lengthM: number;
  readonly settingDepthM: number;
  readonly groundlineCircumferenceM: number;
  readonly tipCircumferenceM: number;
  readonly loadHeightM: number;
  readonly breakLoadN: number;
  readonly breakHeightM: number;
  readonly modulusPa: number;
  readonly frequenciesHz: readonly number[];
  readonly fixity: number;
  readonly moisturePercent: number;
};

/** Invents the pole of a series by its place in it, rings it and breaks it. */
export function breakPole(prefix: string, series: string, index: number): BrokenPole {
  const id = `${prefix}-${String(index + 1).padStart(2, '0')}`;
  const random = createRandomStream(`break ${series} ${id}`);
  const species = SPECIES[index % SPECIES.length]!;
  const treatment = TREATMENTS[Math.floor(random.between(0, TREATMENTS.length))]!;
  const classCode = CLASS_CODES[Math.floor(random.between(0, CLASS_CODES.length))]!;
  const lengthM = LENGTHS_M[Math.floor(random.between(0, LENGTHS_M.length))]!;
  const settingDepthM = estimateSettingDepthM(lengthM);
  const heightM = lengthM - settingDepthM;
  const wood = drawWood(species, treatment, random);
  const shape = drawPoleShape({ species, classCode, lengthM }, settingDepthM, random);
  const soilNPerM3 = random.within(SOIL_N_PER_M3);
  const model: PoleModel = {
    heightM,
    sectionAt: (height) => shape.sectionAt(0, height),
    modulusPa: wood.modulusPa,
    densityKgPerM3: wood.densityKgPerM3,
    shear: SHEAR_OF_WOOD,
    gravityMPerS2: GRAVITY_M_PER_S2,
    root: { kind: 'bedded', settingDepthM, reactionModulusPaAt: (depthM) => soilNPerM3 * depthM },
    springs: [],
    masses: [],
  };
  const frequenciesHz = solvePlane(model, HIGHEST_MODE_HZ, MESH).frequenciesHz.slice(0, MODES);
  const stiffness = computeRootStiffness(model).rotationalNmPerRad;
  const fixity = (stiffness * heightM) / (wood.modulusPa * shape.soundGroundline.secondMomentM4);
  const broken = findBreak(shape, wood.ruptureModulusPa, heightM - LOAD_BELOW_TIP_M, random);
  const spread = (value: number, share: number): number => value * (1 + share * random.normalWithin(2));
  return {
    id,
    species,
    treatment,
    ageYears: Math.round(random.between(0, 45)),
    lengthM,
    settingDepthM,
    groundlineCircumferenceM: spread(shape.circumferenceAtM(0), CIRCUMFERENCE_SPREAD),
    tipCircumferenceM: spread(shape.circumferenceAtM(heightM), CIRCUMFERENCE_SPREAD),
    loadHeightM: heightM - LOAD_BELOW_TIP_M,
    breakLoadN: broken.loadN,
    breakHeightM: broken.heightM,
    modulusPa: spread(wood.modulusPa, MODULUS_SPREAD),
    frequenciesHz: frequenciesHz.map((frequencyHz) => spread(frequencyHz, FREQUENCY_SPREAD)),
    fixity: spread(fixity, FIXITY_SPREAD),
    moisturePercent: wood.moisturePercent,
  };
}

/** Finds the load at which the weakest height breaks: least of strength times section modulus over the arm. */
function findBreak(
  shape: PoleShape,
  ruptureModulusPa: number,
  loadHeightM: number,
  random: RandomStream,
): { loadN: number; heightM: number } {
  let weakest = { loadN: Number.POSITIVE_INFINITY, heightM: 0 };
  for (let heightM = 0; heightM <= HIGHEST_BREAK_SHARE * loadHeightM; heightM += BREAK_STEP_M) {
    const diameterM = shape.circumferenceAtM(heightM) / Math.PI;
    const strengthPa = ruptureModulusPa * (1 + ALONG_SPREAD * Math.abs(random.normalWithin(2)));
    const loadN = (strengthPa * (Math.PI / 32) * diameterM ** 3) / (loadHeightM - heightM);
    if (loadN < weakest.loadN) weakest = { loadN, heightM };
  }
  return weakest;
}
