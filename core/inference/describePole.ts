import {
  fitStemShape,
  type RootForm,
  rootRotationalStiffness,
  type StemShape,
  secondMomentM4,
} from '../beam/index.ts';
import { InputError } from '../errors.ts';
import { deepestSettingM, type RootModelName, type VisitFile } from '../recording/index.ts';
import {
  densityPrior,
  findLowerCircumference,
  findPoleClass,
  isPoleClass,
  modulusPrior,
} from '../wood/index.ts';
import type { CableSpring, LognormalPrior, PointMass, PoleModel } from './poleModel.ts';
import { rootPrior } from './rootPrior.ts';
import { SOIL_PRIORS } from './soilPriors.ts';

/** A tape round a pole that is not quite round: 0.7 % at one standard deviation (ours). */
const GIRTH_LOG_SD = 0.007;
const MEASURED_TIP_GIRTH_SD_M = 0.015;
/** Girths nearer together than this tell less of the taper than the class does (ours). */
const LEAST_TAPER_SPAN_M = 3;
/** Girth lost per metre of height: southern pine classes 1 to 5 of 40 ft lose 0.029 to 0.034 m/m between table rows (from memory). */
const USUAL_GIRTH_TAPER = 0.031;
const USUAL_GIRTH_TAPER_SD = 0.006;

/** Butt-to-tag and tag-to-ground each by tape along a rough pole; ground is not level (ours). */
const TAGGED_DEPTH_SD_M = 0.06;
/** 10 % of length and 0.6 m: common practice, no source; a crew departs from it by a third of a metre (ours). */
const RULE_OF_THUMB_SHARE = 0.1;
const RULE_OF_THUMB_M = 0.6;
const RULE_OF_THUMB_SD_M = 0.3;

/** E / G of softwoods is 12 to 20 along the grain (Wood Handbook FPL-GTR-282, table 5-1, from memory); kappa 0.9 for a round section (Cowper 1966, from memory). */
const MODULUS_OVER_SHEAR_MODULUS = 16;
const SHEAR_COEFFICIENT = 0.9;
const SHEAR_LOG_SD = 0.2;

const MEASURED_DENSITY_LOG_SD = 0.03;
/** A mass from a nameplate or a table, and its lever (ours). */
const GIVEN_MASS_LOG_SD = 0.2;
const SENSOR_MASS_LOG_SD = 0.1;
/** A cable whose stiffness or mass nobody gave: a span of aerial cable, each (ours; wide). */
const USUAL_CABLE_STIFFNESS_N_PER_M = 2000;
const USUAL_CABLE_STIFFNESS_LOG_SD = 1;
const GIVEN_CABLE_STIFFNESS_LOG_SD = 0.3;
const USUAL_CABLE_MASS_KG = 8;
const USUAL_CABLE_MASS_LOG_SD = 0.7;
const GIVEN_CABLE_MASS_LOG_SD = 0.3;

/** A spring root is expected as stiff as the butt in its soil, and less surely so. */
const SPRING_ROOT_EXTRA_LOG_SD = 0.4;

const ROOT_MODELS: readonly RootModelName[] = ['bedded', 'coupled', 'spring'];

/** Root models that are weighed, the usual first: the one that the visit asks for, or all that its priors allow. */
export function rootModelsOf({ options }: VisitFile): readonly RootModelName[] {
  if (options.root) return [options.root];
  return ROOT_MODELS.filter((root) => rootPrior(root, undefined, options.priors?.rootModels).chance > 0);
}

/**
 * Turns a visit's record into the model that is fitted: geometry, priors with their sources, what hangs on the pole.
 * @throws InputError where the measurements contradict each other (setting depth, taper)
 */
export function describePole(visit: VisitFile, rootModel: RootModelName): PoleModel {
  const { pole, measured } = visit;
  const given = visit.options.priors ?? {};
  const depth = findSettingDepth(visit);
  const tipHeightM = pole.lengthM - depth.valueM;
  refuseAboveTip(visit, tipHeightM);
  const stem = describeStem(visit, tipHeightM);
  refuseThickShell(visit, stem.shape);
  const soil = SOIL_PRIORS[measured.soil];
  const wood = modulusPrior(pole.species, measured.moisturePercent ?? null, measured.temperatureC ?? null);
  const modulus = givenOr(given.modulusPa, { median: wood.medianPa, logSd: wood.logSd, source: wood.source });
  const shear = { flexibility: MODULUS_OVER_SHEAR_MODULUS / SHEAR_COEFFICIENT, logSd: SHEAR_LOG_SD };

  const bedded: RootForm = { model: 'bedded', subgrade: soil.subgrade, settingDepthM: depth.valueM };
  const soilPrior = givenOr(given.soilModulus, soil);
  const root: RootForm =
    rootModel === 'spring'
      ? { model: 'spring' }
      : { model: rootModel, subgrade: soil.subgrade, settingDepthM: depth.valueM };
  const stiffnessOfButt = rootRotationalStiffness(bedded, stem.shape, shear.flexibility);
  const rootStiffness =
    rootModel === 'spring'
      ? givenOr(given.rotationalStiffnessNmPerRad, {
          median: stiffnessOfButt(modulus.median, soilPrior.median),
          logSd: Math.hypot(soilPrior.logSd, SPRING_ROOT_EXTRA_LOG_SD),
          source: `the butt in its soil: ${soilPrior.source}`,
        })
      : soilPrior;

  return {
    lengthM: pole.lengthM,
    settingDepthM: depth.valueM,
    settingDepthSdM: depth.sdM,
    settingDepthSource: depth.source,
    ...stem,
    girthLogSd: GIRTH_LOG_SD,
    groundlineGirthLogSd: Math.hypot(
      GIRTH_LOG_SD,
      Math.log(stem.shapeForTip(stem.tipDiameterSdM).diametersM[0]! / stem.shape.diametersM[0]!),
    ),
    modulus,
    density: givenOr(given.densityKgPerM3, describeDensity(visit)),
    root,
    rootChance: rootPrior(rootModel, visit.options.root, given.rootModels),
    rootStiffness,
    shear,
    givenPriors: Object.keys(given),
    masses: describeMasses(measured),
    cables: describeCables(measured),
    selfWeight: true,
  };
}

/** Heights are told in rounded figures, and the depth that the tip hangs on is not sure. */
const TIP_TOLERANCE_M = 0.3;

function refuseAboveTip({ measured, recordings }: VisitFile, tipHeightM: number): void {
  const heights: [string, number | null | undefined][] = [
    ...measured.circumferences.map((g, i): [string, number] => [
      `measured.circumferences[${i}].heightM`,
      g.heightM,
    ]),
    ...measured.cables.map((c, i): [string, number] => [`measured.cables[${i}].heightM`, c.heightM]),
    ...measured.attachments.map((a, i): [string, number] => [
      `measured.attachments[${i}].heightM`,
      a.heightM,
    ]),
    ['measured.sensorHeightM', measured.sensorHeightM],
    ['measured.staticPull.forceHeightM', measured.staticPull?.forceHeightM],
    ['measured.staticPull.deflectionHeightM', measured.staticPull?.deflectionHeightM],
    ...recordings.flatMap(({ channels }, r) =>
      channels.map((c, i): [string, number | null | undefined] => [
        `recordings[${r}].channels[${i}].heightM`,
        c.heightM,
      ]),
    ),
  ];
  for (const [field, heightM] of heights) {
    if (heightM != null && heightM > tipHeightM + TIP_TOLERANCE_M) {
      throw new InputError(
        'visit.aboveTip',
        `Field ${field}: ${heightM} m is above the tip, which stands ${tipHeightM.toFixed(2)} m over ground line.`,
        'Heights count from ground line in metres; check the height, pole.lengthM and the setting depth.',
      );
    }
  }
}

/** A bore hole is not quite radial, nor a pole quite round: a shell of the radius may read this much more (ours). */
const SHELL_OVER_RADIUS = 1.05;

/** A shell thicker than the pole is a slip of the pen, and would count as sound wood to the middle. */
function refuseThickShell({ measured: { shellThicknessM } }: VisitFile, { diametersM }: StemShape): void {
  const radiusM = diametersM[0]! / 2;
  if (shellThicknessM == null || shellThicknessM <= SHELL_OVER_RADIUS * radiusM) return;
  throw new InputError(
    'visit.shell',
    `Field measured.shellThicknessM: ${shellThicknessM} m is more than the radius at ground line, ${radiusM.toFixed(3)} m.`,
    'Give the least sound shell in metres, at most the radius; check the circumferences.',
  );
}

const GIVEN_SOURCE = 'given in options.priors of the visit';

/** A prior of the user's own in place of the tabulated one. */
function givenOr(
  given: { median: number; logSd: number } | undefined,
  { median, logSd, source }: LognormalPrior,
): LognormalPrior {
  return given ? { ...given, source: GIVEN_SOURCE } : { median, logSd, source };
}

function findSettingDepth({ pole, measured, options }: VisitFile): {
  valueM: number;
  sdM: number;
  source: string;
} {
  const given = options.priors?.settingDepthM;
  if (given) {
    if (given.median >= deepestSettingM(pole.lengthM)) {
      throw new InputError(
        'pole.settingDepth',
        `Setting depth is given as ${given.median} m in options.priors.settingDepthM; expected less than half of the length, ${pole.lengthM} m.`,
        'Correct options.priors.settingDepthM.median or pole.lengthM.',
      );
    }
    return { valueM: given.median, sdM: given.sd, source: GIVEN_SOURCE };
  }
  const { buttToTagM } = pole;
  const { tagHeightM } = measured;
  if (buttToTagM == null || tagHeightM == null) {
    return {
      valueM: RULE_OF_THUMB_SHARE * pole.lengthM + RULE_OF_THUMB_M,
      sdM: RULE_OF_THUMB_SD_M,
      source: '10 % of the length and 0.6 m (common practice, no source)',
    };
  }
  const valueM = buttToTagM - tagHeightM;
  if (!(valueM > 0 && valueM < deepestSettingM(pole.lengthM))) {
    throw new InputError(
      'pole.settingDepth',
      `Setting depth comes out as ${valueM.toFixed(2)} m (pole.buttToTagM ${buttToTagM} - measured.tagHeightM ${tagHeightM}); expected between 0 and half of the length, ${pole.lengthM} m.`,
      'Check both distances; leave out measured.tagHeightM to use the rule of thumb.',
    );
  }
  return { valueM, sdM: TAGGED_DEPTH_SD_M, source: 'distance from butt to tag less height of the tag' };
}

function describeStem(
  { pole, measured, options }: VisitFile,
  tipHeightM: number,
): Pick<PoleModel, 'shape' | 'shapeForTip' | 'tipDiameterSdM' | 'tipSource'> {
  const girths = measured.circumferences;
  const given = options.priors?.tipGirthM;
  const top = given?.median ?? measured.topCircumferenceM ?? null;
  const spanM = Math.max(...girths.map((g) => g.heightM)) - Math.min(...girths.map((g) => g.heightM));
  if (top !== null || spanM >= LEAST_TAPER_SPAN_M) {
    const base = top === null ? girths : [...girths, { heightM: tipHeightM, circumferenceM: top }];
    const shape = fitStemShape(base, tipHeightM);
    const highest = Math.max(...girths.map((g) => g.heightM));
    const lowest = Math.min(...girths.map((g) => g.heightM));
    // a taper read from girths close together is uncertain in proportion as it is carried to the tip
    const leverage = top === null ? (tipHeightM - lowest) / (highest - lowest) : 1;
    return {
      shape,
      shapeForTip: (changeM) => {
        // a straight line more, through the lowest girth, which the tape fixed
        const perM = changeM / (tipHeightM - lowest);
        const diametersM = shape.diametersM.map((d, i) => d + perM * (shape.heightsM[i]! - lowest));
        return { heightsM: shape.heightsM, diametersM };
      },
      tipDiameterSdM: ((given?.sd ?? MEASURED_TIP_GIRTH_SD_M) * leverage) / Math.PI,
      tipSource: given ? GIVEN_SOURCE : top === null ? 'taper of the measured girths (ours)' : 'tape (ours)',
    };
  }
  const girth = {
    heightM: girths.reduce((sum, g) => sum + g.heightM, 0) / girths.length,
    circumferenceM: girths.reduce((sum, g) => sum + g.circumferenceM, 0) / girths.length,
  };
  const taper = expectedTaper(pole.classCode ?? null, pole.lengthM);
  const through = (tipChangeM: number): StemShape =>
    fitStemShape(
      [
        girth,
        {
          heightM: tipHeightM,
          circumferenceM: girth.circumferenceM - taper * (tipHeightM - girth.heightM) + tipChangeM * Math.PI,
        },
      ],
      tipHeightM,
    );
  return {
    shape: through(0),
    shapeForTip: through,
    tipDiameterSdM: (USUAL_GIRTH_TAPER_SD * (tipHeightM - girth.heightM)) / Math.PI,
    tipSource: 'usual taper of the class (ANSI O5.1 dimensions, from memory; spread ours)',
  };
}

/** Girth lost per metre of height, from the least dimensions of the class where its table has them. */
function expectedTaper(classCode: string | null, lengthM: number): number {
  const lower = classCode !== null && isPoleClass(classCode) && findLowerCircumference(classCode, lengthM);
  if (!lower) return USUAL_GIRTH_TAPER;
  return (
    (lower.circumferenceM - findPoleClass(classCode).leastTipCircumferenceM) / (lengthM - lower.fromButtM)
  );
}

function describeDensity({ pole, measured }: VisitFile): LognormalPrior {
  if (measured.densityKgPerM3 != null) {
    return { median: measured.densityKgPerM3, logSd: MEASURED_DENSITY_LOG_SD, source: 'measured' };
  }
  const prior = densityPrior(pole.species, measured.moisturePercent ?? null);
  return { median: prior.medianKgPerM3, logSd: prior.logSd, source: prior.source };
}

function describeMasses(measured: VisitFile['measured']): PointMass[] {
  const sensor: PointMass = {
    heightM: measured.sensorHeightM,
    massKg: measured.sensorMassKg,
    logSd: SENSOR_MASS_LOG_SD,
    origin: { setBy: 'measured.sensorMassKg', isGiven: true },
  };
  const attachments = measured.attachments.map(
    ({ heightM, massKg }, i): PointMass => ({
      heightM,
      massKg,
      logSd: GIVEN_MASS_LOG_SD,
      origin: { setBy: `measured.attachments[${i}].massKg`, isGiven: true },
    }),
  );
  const cables = measured.cables.map(
    ({ heightM, massKg, count }, i): PointMass => ({
      heightM,
      massKg: massKg ?? USUAL_CABLE_MASS_KG * count,
      logSd: massKg == null ? USUAL_CABLE_MASS_LOG_SD : GIVEN_CABLE_MASS_LOG_SD,
      origin: { setBy: `measured.cables[${i}].massKg`, isGiven: massKg != null },
    }),
  );
  return [sensor, ...attachments, ...cables].filter(({ massKg }) => massKg > 0);
}

function describeCables(measured: VisitFile['measured']): CableSpring[] {
  return measured.cables
    .map(
      ({ heightM, azimuthDeg, lateralStiffnessNPerM: stiffness, count }, i): CableSpring => ({
        heightM,
        azimuthDeg,
        stiffnessNPerM: stiffness ?? USUAL_CABLE_STIFFNESS_N_PER_M * count,
        logSd: stiffness == null ? USUAL_CABLE_STIFFNESS_LOG_SD : GIVEN_CABLE_STIFFNESS_LOG_SD,
        origin: { setBy: `measured.cables[${i}].lateralStiffnessNPerM`, isGiven: stiffness != null },
      }),
    )
    .filter(({ stiffnessNPerM }) => stiffnessNPerM > 0);
}

/** Ground-line second moment of area of a pole model in m4. */
export function groundlineSecondMomentM4(model: PoleModel): number {
  return secondMomentM4(model.shape.diametersM[0]!);
}
