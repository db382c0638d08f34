import { estimateSettingDepthM } from './poleClasses.ts';
import { drawPoleShape, type PoleShape } from './poleShape.ts';
import { createRandomStream, type RandomStream } from './random.ts';
import { GRAVITY_M_PER_S2, type PoleModel, SHEAR_OF_WOOD } from './simulator/index.ts';
import type { PoleStory, VisitStory } from './stories.ts';
import { drawWood, type Wood } from './wood.ts';

/** A cable as it acts on the pole: stiff along its azimuth, a little across it, its mass in both planes. */
interface InventedCable {
  readonly kind: string;
  readonly count: number;
  readonly heightM: number;
  readonly azimuthDeg: number;
  readonly lateralStiffnessNPerM: number;
  readonly massKg: number;
}

interface InventedAttachment {
  readonly kind: string;
  readonly heightM: number;
  readonly massKg: number;
}

/** Everything that is true of one pole before its visits. */
export interface InventedPole {
  readonly story: PoleStory;
  readonly wood: Wood;
  readonly settingDepthM: number;
  readonly heightM: number;
  readonly shape: PoleShape;
  readonly soil: InventedSoil;
  readonly lineAzimuthDeg: number;
  readonly cables: readonly InventedCable[];
  readonly attachments: readonly InventedAttachment[];
  readonly buttToTagM: number;
}

/** Reaction of the soil on the pole: n_h times depth for sands (N/m3), constant for clays (N/m2). */
interface InventedSoil {
  readonly law: 'linear' | 'constant';
  readonly modulus: number;
  /** Factor of the plane across the line against the plane along it. */
  readonly acrossFactor: number;
}

/** A pole as it stood on the day of a visit, with the sensor strapped on: one model for each plane. */
export interface PoleState {
  readonly pole: InventedPole;
  readonly modulusPa: number;
  readonly soilModulus: number;
  /** Plane 0 bends along the line, plane 1 across it. */
  readonly planes: readonly [PoleModel, PoleModel];
}

export const SENSOR_HEIGHT_M = 2;
export const SENSOR_MASS_KG = 0.4;

/** Horizontal subgrade reaction: sands n_h in N/m3, clays in N/m2; within the ranges usual for piles (assumption). */
const SOILS = {
  'loose-sand': { law: 'linear', low: 5e6, high: 9e6 },
  'medium-sand': { law: 'linear', low: 11e6, high: 20e6 },
  'dense-sand': { law: 'linear', low: 26e6, high: 40e6 },
  'soft-clay': { law: 'constant', low: 5e6, high: 8e6 },
  'medium-clay': { law: 'constant', low: 11e6, high: 18e6 },
  'stiff-clay': { law: 'constant', low: 25e6, high: 40e6 },
} as const;

/** Depth off the intended one, as crews set poles (assumption). */
const DEPTH_SPREAD_M = 0.06;
const TAG_FROM_BUTT_M = 3.05;
/** A taut cable resists movement across it a little: about 2 T / span against its stiffness along it (assumption). */
const CABLE_ACROSS_SHARE = 0.04;

const CABLES = {
  aerial: { count: 1, belowTipM: 0.9, acrossLine: false, stiffnessNPerM: [300, 900], massKg: [6, 12] },
  'aerial-pair': {
    count: 2,
    belowTipM: 0.7,
    acrossLine: false,
    stiffnessNPerM: [800, 1600],
    massKg: [14, 22],
  },
  service: { count: 1, belowTipM: 1.2, acrossLine: true, stiffnessNPerM: [80, 200], massKg: [2, 4] },
  stay: { count: 1, belowTipM: 0.6, acrossLine: false, stiffnessNPerM: [3500, 6000], massKg: [3, 5] },
} as const;

const ATTACHMENTS = {
  transformer: { belowTipM: 1.5, massKg: [90, 140] },
  crossarm: { belowTipM: 0.3, massKg: [28, 40] },
  lamp: { belowTipM: 1.0, massKg: [9, 14] },
} as const;

/** Draws all that is true of a pole; the same story gives the same pole. */
export function inventPole(story: PoleStory): InventedPole {
  const random = createRandomStream(`pole ${story.id}`);
  const settingDepthM =
    estimateSettingDepthM(story.lengthM) + (story.depthOffM ?? 0) + DEPTH_SPREAD_M * random.normalWithin(2);
  const heightM = story.lengthM - settingDepthM;
  const soil = SOILS[story.soil];
  const lineAzimuthDeg = Math.round(random.between(0, 180));
  return {
    story,
    wood: drawWood(story.species, story.treatment, random),
    settingDepthM,
    heightM,
    shape: drawPoleShape(story, settingDepthM, random),
    soil: {
      law: soil.law,
      modulus: story.backfill * random.between(soil.low, soil.high),
      acrossFactor: random.between(0.93, 1.07),
    },
    lineAzimuthDeg,
    cables: (story.cables ?? []).map((kind) => drawCable(kind, heightM, lineAzimuthDeg, random)),
    attachments: (story.attachments ?? []).map((kind) => ({
      kind,
      heightM: heightM - ATTACHMENTS[kind].belowTipM,
      massKg: random.within(ATTACHMENTS[kind].massKg),
    })),
    buttToTagM: TAG_FROM_BUTT_M,
  };
}

function drawCable(
  kind: keyof typeof CABLES,
  heightM: number,
  lineAzimuthDeg: number,
  random: RandomStream,
): InventedCable {
  const cable = CABLES[kind];
  return {
    kind,
    count: cable.count,
    heightM: heightM - cable.belowTipM,
    azimuthDeg: (lineAzimuthDeg + (cable.acrossLine ? 90 : 0)) % 360,
    lateralStiffnessNPerM: random.within(cable.stiffnessNPerM),
    massKg: random.within(cable.massKg),
  };
}

/** Puts a pole into the state of one visit: changed stem and root, sensor on. */
export function standPole(pole: InventedPole, visit: VisitStory): PoleState {
  const modulusPa = pole.wood.modulusPa * (visit.stemFactor ?? 1);
  const soilModulus = pole.soil.modulus * (visit.rootFactor ?? 1);
  const planeOf = (plane: 0 | 1): PoleModel => {
    const planeModulus = soilModulus * (plane === 0 ? 1 : pole.soil.acrossFactor);
    return {
      heightM: pole.heightM,
      sectionAt: (heightM) => pole.shape.sectionAt(plane, heightM),
      modulusPa,
      densityKgPerM3: pole.wood.densityKgPerM3,
      shear: SHEAR_OF_WOOD,
      gravityMPerS2: GRAVITY_M_PER_S2,
      root: {
        kind: 'bedded',
        settingDepthM: pole.settingDepthM,
        reactionModulusPaAt: (depthM) => (pole.soil.law === 'linear' ? planeModulus * depthM : planeModulus),
      },
      springs: pole.cables.map((cable) => {
        const along = Math.cos(((cable.azimuthDeg - pole.lineAzimuthDeg - 90 * plane) * Math.PI) / 180) ** 2;
        return {
          heightM: cable.heightM,
          stiffnessNPerM: cable.lateralStiffnessNPerM * (along + CABLE_ACROSS_SHARE * (1 - along)),
        };
      }),
      masses: [
        ...pole.cables.map(({ heightM, massKg }) => ({ heightM, massKg })),
        ...pole.attachments.map(({ heightM, massKg }) => ({ heightM, massKg })),
        { heightM: SENSOR_HEIGHT_M, massKg: SENSOR_MASS_KG },
      ],
    };
  };
  return { pole, modulusPa, soilModulus, planes: [planeOf(0), planeOf(1)] };
}
