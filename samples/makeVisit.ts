import type { VisitFile } from '../core/recording/visitFile.ts';
import { LINE_LOADS } from './lineLoads.ts';
import { type InventedPole, type PoleState, SENSOR_HEIGHT_M, SENSOR_MASS_KG, standPole } from './place.ts';
import { createRandomStream, type RandomStream } from './random.ts';
import { type MadeRecording, recordVisit } from './recordVisit.ts';
import { prepareStruckPole, type StruckPole } from './simulateStrike.ts';
import { computeRootStiffness } from './simulator/index.ts';
import type { VisitStory } from './stories.ts';

/** One visit: what the crew wrote down, what the recorder kept, and what is true. */
export interface MadeVisit {
  readonly name: string;
  readonly visit: VisitFile;
  readonly recordings: readonly MadeRecording[];
  readonly truth: VisitTruth;
}

export type VisitTruth = ReturnType<typeof tellTruth>;

/** How well a crew measures (common practice, no source). */
const TAPE_SPREAD = 0.002;
const TAG_SPREAD_M = 0.01;
const PLATE_SPREAD = 0.03;
const MOISTURE_SPREAD_PERCENT = 2;
const DENSITY_SPREAD = 0.02;
/** The height at which one circumference is taken in common practice. */
const CIRCUMFERENCE_HEIGHT_M = 1.7;
const PROFILE_HEIGHTS_M = [0.3, 1, 1.7, 2.4];
const SENSOR_TURN_SPREAD_DEG = 2;
const ASKED_AIM_DEG = 45;
/** Modes told in the truth file. */
const MODES_TOLD = 4;
/** The invented district lies in the sea off 0 N 0 E, where no pole stands. */
const DISTRICT_DEG = 0.05;

/** Makes one visit of a pole: recordings, visit file and truth. The same story gives the same bytes. */
export function makeVisit(pole: InventedPole, story: VisitStory): MadeVisit {
  const name = `${pole.story.id}-${story.date.slice(0, 4)}`;
  const random = createRandomStream(`visit ${name}`);
  const state = standPole(pole, story);
  const struck = prepareStruckPole(state, random);
  const sensorTurnDeg = story.sensorTurnDeg ?? SENSOR_TURN_SPREAD_DEG * random.normalWithin(2);
  const recordings = recordVisit(state, struck, story, name, sensorTurnDeg);
  return {
    name,
    recordings,
    visit: writeDown(state, story, recordings, sensorTurnDeg, random),
    truth: tellTruth(name, state, story, struck, recordings, sensorTurnDeg),
  };
}

function writeDown(
  state: PoleState,
  story: VisitStory,
  recordings: readonly MadeRecording[],
  sensorTurnDeg: number,
  random: RandomStream,
): VisitFile {
  const { pole } = state;
  const knows = new Set(story.knows ?? []);
  const forgets = new Set(story.forgets ?? []);
  const place = createRandomStream(`map ${pole.story.id}`);
  const tape = (heightM: number): number =>
    round(pole.shape.circumferenceAtM(heightM) * (1 + TAPE_SPREAD * random.normalWithin(2)), 3);
  // A wandering strap is noticed only where it is far off.
  const noticedTurnDeg = Math.abs(sensorTurnDeg) > 2 * SENSOR_TURN_SPREAD_DEG ? 0 : sensorTurnDeg;
  const firstAxisDeg = round(pole.lineAzimuthDeg + noticedTurnDeg, 0);
  return {
    format: 'stemroot-visit',
    version: 1,
    pole: {
      id: pole.story.id,
      species: pole.story.species,
      treatment: pole.story.treatment,
      classCode: forgets.has('class') ? null : pole.story.classCode,
      lengthM: pole.story.lengthM,
      setYear: pole.story.setYear,
      latitude: round(place.between(-DISTRICT_DEG, DISTRICT_DEG), 5),
      longitude: round(place.between(-DISTRICT_DEG, DISTRICT_DEG), 5),
      buttToTagM: pole.buttToTagM,
    },
    measured: {
      date: story.date,
      circumferences: (knows.has('profile') ? PROFILE_HEIGHTS_M : [CIRCUMFERENCE_HEIGHT_M]).map(
        (heightM) => ({
          heightM,
          circumferenceM: tape(heightM),
        }),
      ),
      topCircumferenceM: knows.has('top') ? tape(pole.heightM) : null,
      tagHeightM: forgets.has('tag')
        ? null
        : round(pole.buttToTagM - pole.settingDepthM + TAG_SPREAD_M * random.normalWithin(2), 2),
      sensorHeightM: SENSOR_HEIGHT_M,
      sensorMassKg: SENSOR_MASS_KG,
      soil: forgets.has('soil') ? 'unknown' : pole.story.soil,
      moisturePercent: round(pole.wood.moisturePercent + MOISTURE_SPREAD_PERCENT * random.normalWithin(2), 0),
      temperatureC: round(random.between(8, 22), 0),
      lineAzimuthDeg: pole.lineAzimuthDeg,
      cables: pole.cables.map((cable) => ({
        kind: cable.kind,
        count: cable.count,
        heightM: round(cable.heightM, 2),
        azimuthDeg: cable.azimuthDeg,
        lateralStiffnessNPerM: knows.has('cable-stiffness')
          ? roundTo(cable.lateralStiffnessNPerM, random)
          : null,
        massKg: knows.has('cable-stiffness') ? roundTo(cable.massKg, random) : null,
      })),
      attachments: pole.attachments.map((attachment) => ({
        heightM: round(attachment.heightM, 2),
        massKg: roundTo(attachment.massKg, random),
        kind: attachment.kind,
      })),
      densityKgPerM3: knows.has('density')
        ? round(pole.wood.densityKgPerM3 * (1 + DENSITY_SPREAD * random.normalWithin(2)), 0)
        : null,
      shellThicknessM: knows.has('shell') ? measureShellM(pole) : null,
    },
    requirement: stateRequirement(story),
    recordings: recordings.map((recording) => ({
      file: recording.file,
      exciter: recording.exciter,
      strikeHeightM: recording.strikeHeightM,
      strikeAzimuthDeg: round(pole.lineAzimuthDeg + ASKED_AIM_DEG, 0),
      channels: [0, 1].map((index) => ({
        index,
        azimuthDeg: firstAxisDeg + 90 * index,
        heightM: SENSOR_HEIGHT_M,
        fullScaleMPerS2:
          recording.form === 'csv' || recording.form === 'float32' ? null : recording.fullScaleMPerS2,
        cornerHz: recording.cornerHz,
      })),
    })),
    options: {},
  };
}

function stateRequirement({ requirementNm, listsLoads = false }: VisitStory): VisitFile['requirement'] {
  if (listsLoads) return { loads: LINE_LOADS };
  return requirementNm === undefined
    ? null
    : { groundlineMomentNm: requirementNm, source: 'Invented line loads of Kelvermoor, sheet 7' };
}

function measureShellM(pole: InventedPole): number | null {
  const { decay } = pole.story;
  if (decay === undefined || decay.kind !== 'inside') return null;
  return round((pole.shape.circumferenceAtM(0) / Math.PI) * ((1 - decay.share) / 2), 3);
}

function tellTruth(
  name: string,
  state: PoleState,
  story: VisitStory,
  struck: StruckPole,
  recordings: readonly MadeRecording[],
  sensorTurnDeg: number,
) {
  const { pole } = state;
  const root = computeRootStiffness(state.planes[0]);
  const sound = pole.shape.soundGroundline;
  return {
    visit: `${name}.visit.json`,
    poleId: pole.story.id,
    noResultExpected: story.hopeless ?? false,
    localDecay: pole.story.decay ?? null,
    stem: {
      modulusPa: significant(state.modulusPa),
      densityKgPerM3: significant(pole.wood.densityKgPerM3),
      aboveGroundM: significant(pole.heightM),
      groundlineCircumferenceM: significant(pole.shape.circumferenceAtM(0)),
      tipCircumferenceM: significant(pole.shape.circumferenceAtM(pole.heightM)),
    },
    root: {
      settingDepthM: significant(pole.settingDepthM),
      soilLaw: pole.soil.law,
      soilModulus: significant(state.soilModulus),
      soilModulusUnit: pole.soil.law === 'linear' ? 'N/m3' : 'N/m2',
      soilFactorAcross: significant(pole.soil.acrossFactor),
      rotationalStiffnessNmPerRad: significant(root.rotationalNmPerRad),
      lateralFlexibilityMPerN: significant(root.lateralMPerN),
      crossFlexibilityRadPerN: significant(root.crossRadPerN),
      fixity: significant(
        (root.rotationalNmPerRad * pole.heightM) / (state.modulusPa * sound.secondMomentM4),
      ),
    },
    planes: struck.planes.map((plane, index) => ({
      plane: index,
      azimuthDeg: pole.lineAzimuthDeg + 90 * index,
      modes: plane.frequenciesHz.slice(0, MODES_TOLD).map((frequencyHz, mode) => ({
        number: mode + 1,
        frequencyHz: significant(frequencyHz),
        dampingRatio: significant(struck.dampingRatios[index as 0 | 1][mode]!),
      })),
    })),
    strength: {
      modulusOfRupturePa: significant(pole.wood.ruptureModulusPa),
      groundlineMomentNm: significant(
        pole.wood.ruptureModulusPa * sound.modulusM3 * pole.shape.modulusShareLeft,
      ),
      sectionModulusShareLeft: significant(pole.shape.modulusShareLeft),
    },
    cables: pole.cables.map((cable) => ({
      kind: cable.kind,
      lateralStiffnessNPerM: significant(cable.lateralStiffnessNPerM),
      massKg: significant(cable.massKg),
    })),
    attachments: pole.attachments.map(({ kind, massKg }) => ({ kind, massKg: significant(massKg) })),
    sensorTurnDeg: significant(sensorTurnDeg),
    recordings: recordings.map((recording) => ({
      file: recording.file,
      sampleRateHz: recording.sampleRateHz,
      strikes: recording.strikes.map((strike) => ({
        startS: significant(strike.startS),
        ringDownS: significant(strike.ringDownS),
        peakForceN: significant(strike.peakForceN),
        contactS: significant(strike.contactS),
        bounceAfterS: strike.bounceAfterS === null ? null : significant(strike.bounceAfterS),
        offLineDeg: significant(strike.offLineDeg),
        faults: strike.faults,
      })),
    })),
  };
}

/** Seven digits: more than anybody can measure, and the same text on every machine. */
function significant(value: number): number {
  return Number(value.toPrecision(7));
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

/** What a plate or an estimate says: near the truth, in two digits. */
function roundTo(value: number, random: RandomStream): number {
  return Number((value * (1 + PLATE_SPREAD * random.normalWithin(2))).toPrecision(2));
}
