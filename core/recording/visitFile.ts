import { z } from 'zod';
import { FormatError, InputError } from '../errors.ts';
import { parseJson } from '../parseJson.ts';
import { parsePlainly } from '../parsePlainly.ts';
import { lineOfText } from './lineOfText.ts';
import { PRIOR_LIMITS } from './priorLimits.ts';
import { requirementProfileSchema } from './requirementProfile.ts';

export { deepestSettingM, PRIOR_LIMITS } from './priorLimits.ts';
export { type RequirementProfile, requirementProfileSchema } from './requirementProfile.ts';

const azimuthDeg = z.number().min(-360).max(360).describe('Degrees clockwise from north.');
const positive = z.number().positive();

/** Species for which priors and handbook strength are known; `other` is weighed by a wide prior. */
export const SPECIES = [
  'southern-pine',
  'douglas-fir',
  'western-redcedar',
  'lodgepole-pine',
  'red-pine',
  'ponderosa-pine',
  'other',
] as const;

/** Soil kinds for which a prior of the horizontal subgrade modulus is known. */
export const SOILS = [
  'loose-sand',
  'medium-sand',
  'dense-sand',
  'soft-clay',
  'medium-clay',
  'stiff-clay',
  'gravel',
  'unknown',
] as const;

/** Forms of root that the fit knows; absent in a visit, the program chooses and says why. */
const ROOT_MODELS = ['spring', 'coupled', 'bedded'] as const;

const poleSchema = z.strictObject({
  id: lineOfText(80).min(1),
  species: z.enum(SPECIES),
  treatment: lineOfText(80).nullish(),
  classCode: lineOfText(4).nullish().describe('ANSI O5.1 class: H6 to H1, 1 to 10.'),
  lengthM: positive.max(60).describe('Whole length, butt to tip, in m.'),
  setYear: z.int().min(1850).max(2200).nullish(),
  latitude: z.number().min(-90).max(90).nullish(),
  longitude: z.number().min(-180).max(180).nullish(),
  buttToTagM: positive.max(20).nullish().describe('Distance from the butt to the tag or brand, in m.'),
});

const cableSchema = z.strictObject({
  kind: lineOfText(40).min(1),
  count: z.int().min(1).max(100).default(1),
  heightM: positive.max(60),
  azimuthDeg,
  lateralStiffnessNPerM: z
    .number()
    .min(0)
    .nullish()
    .describe('Stiffness along the cable, all of its count together.'),
  massKg: z
    .number()
    .min(0)
    .max(5000)
    .nullish()
    .describe('Mass that moves with the pole, all of its count together.'),
});

const attachmentSchema = z.strictObject({
  heightM: positive.max(60),
  massKg: positive.max(5000),
  kind: lineOfText(40).nullish(),
});

const staticPullSchema = z.strictObject({
  forceN: positive.max(1e5),
  forceHeightM: positive.max(60),
  deflectionM: positive.max(5).describe('Horizontal, in the direction of the pull.'),
  deflectionHeightM: positive.max(60),
  azimuthDeg,
});

const measuredSchema = z.strictObject({
  date: z.iso.date(),
  circumferences: z
    .array(z.strictObject({ heightM: z.number().min(0).max(60), circumferenceM: positive.max(5) }))
    .min(1)
    .max(50)
    .describe('Heights above ground line and circumferences, in m.'),
  topCircumferenceM: positive.max(5).nullish(),
  tagHeightM: z.number().min(0).max(20).nullish().describe('Height of the tag above ground line, in m.'),
  sensorHeightM: positive.max(30).default(2),
  sensorMassKg: z.number().min(0).max(50).default(0),
  soil: z.enum(SOILS).default('unknown'),
  moisturePercent: positive.max(200).nullish(),
  temperatureC: z.number().min(-60).max(60).nullish(),
  lineAzimuthDeg: azimuthDeg.nullish(),
  cables: z.array(cableSchema).max(50).default([]),
  attachments: z.array(attachmentSchema).max(50).default([]),
  densityKgPerM3: positive
    .min(100)
    .max(2000)
    .nullish()
    .describe('Absent: a prior from species and moisture.'),
  staticPull: staticPullSchema.nullish().describe('A steady horizontal pull on the pole; it pins the root.'),
  shellThicknessM: positive.max(1).nullish().describe('Least sound shell at ground line, from boring, in m.'),
});

const channelSchema = z.strictObject({
  index: z.int().min(0).max(255).describe('Channel of the file, from 0.'),
  azimuthDeg,
  heightM: positive.max(30).nullish().describe('Absent: measured.sensorHeightM.'),
  fullScaleMPerS2: positive
    .max(1e6)
    .nullish()
    .describe('Acceleration at digital full scale; absent for files in m/s2.'),
  cornerHz: z.number().min(0).max(1000).nullish().describe('High-pass corner of sensor and recorder, -3 dB.'),
});

const recordingSchema = z.strictObject({
  file: lineOfText(255).min(1).describe('Name of a file in the folder of the visit file.'),
  exciter: z.enum(['hammer', 'hand', 'unknown']).default('unknown'),
  strikeHeightM: positive.max(30).nullish(),
  strikeAzimuthDeg: azimuthDeg.nullish(),
  exponentialWindowS: positive
    .max(1e4)
    .nullish()
    .describe(
      'Time constant of an exponential window that the recorder laid over the recording; absent: none.',
    ),
  channels: z.array(channelSchema).min(1).max(16),
});

const momentRequirementSchema = z.strictObject({
  groundlineMomentNm: positive.max(1e8),
  source: lineOfText(200).min(1),
  rule: z
    .strictObject({ factor: positive.max(1), source: lineOfText(200).min(1) })
    .nullish()
    .describe(
      'Share of the moment at which the pole is to be replaced or restored; absent: the moment itself is the threshold.',
    ),
});

/** Either a moment as a number, or the loads that it is to be computed from. */
const requirementSchema = z.union([
  momentRequirementSchema,
  z.strictObject({ loads: requirementProfileSchema }),
]);

type PriorLimits = { least: number; most: number; widest: number };

const lognormalPrior = ({ least, most, widest }: PriorLimits) =>
  z
    .strictObject({
      median: z.number().min(least).max(most),
      logSd: positive.max(widest).describe('Standard deviation of the natural logarithm.'),
    })
    .optional();

const share = z.number().min(0).max(1);

/** How much each root model is believed before any pick, relative to the others; 0 leaves it out. */
export const rootSharesSchema = z
  .strictObject({ bedded: share, coupled: share, spring: share })
  .refine(
    ({ bedded, coupled, spring }) => Math.max(bedded, coupled, spring) > 0,
    'at least one root model must be possible',
  );

const lengthPrior = ({ least, most, widest }: PriorLimits) =>
  z
    .strictObject({
      median: z.number().min(least).max(most),
      sd: positive.max(widest).describe('Standard deviation, m.'),
    })
    .optional();

/** What is taken as known of a pole before its recordings; each absent one comes from tables, with its source. */
const priorsSchema = z.strictObject({
  modulusPa: lognormalPrior(PRIOR_LIMITS.modulusPa).describe(
    'Stem modulus of elasticity, at its moisture and temperature.',
  ),
  densityKgPerM3: lognormalPrior(PRIOR_LIMITS.densityKgPerM3).describe('Density, moisture included.'),
  soilModulus: lognormalPrior(PRIOR_LIMITS.soilModulus).describe(
    'n_h in N/m3 in sand, k in N/m2 in clay; of bedded and coupled roots.',
  ),
  rotationalStiffnessNmPerRad: lognormalPrior(PRIOR_LIMITS.rotationalStiffnessNmPerRad).describe(
    'Of a spring root.',
  ),
  rootModels: rootSharesSchema
    .optional()
    .describe('Chance of each root model, relative to the others; counts where options.root is absent.'),
  settingDepthM: lengthPrior(PRIOR_LIMITS.settingDepthM).describe('Depth of the butt below ground line, m.'),
  tipGirthM: lengthPrior(PRIOR_LIMITS.tipGirthM).describe('Circumference at the tip, m.'),
});

/** What a visit file may hold: the pole, what was measured on it, its recordings and options. */
export const visitFileSchema = z
  .strictObject({
    format: z.literal('stemroot-visit'),
    version: z.literal(1),
    pole: poleSchema,
    measured: measuredSchema,
    requirement: requirementSchema.nullish().describe('Absent: from the class load of the pole.'),
    recordings: z.array(recordingSchema).min(1).max(64),
    options: z
      .strictObject({ root: z.enum(ROOT_MODELS).optional(), priors: priorsSchema.optional() })
      .default({}),
  })
  .meta({ title: 'Stemroot visit file, version 1' });

export type VisitFile = z.infer<typeof visitFileSchema>;
export type Priors = z.infer<typeof priorsSchema>;
export type PoleRecord = VisitFile['pole'];
export type Measured = VisitFile['measured'];
export type RecordingEntry = VisitFile['recordings'][number];
export type RootModelName = (typeof ROOT_MODELS)[number];

export const LARGEST_VISIT_FILE_BYTES = 4 * 1024 * 1024;

/**
 * Reads the text of a visit file.
 * @param text - JSON text, at most 4 MiB
 * @param fileName - named in errors
 * @throws FormatError `visit.json` where the text is no JSON; InputError `visit.field` naming the first
 *   field that is missing, unknown or out of range, with its value.
 */
export function parseVisitFile(text: string, fileName: string): VisitFile {
  if (text.length > LARGEST_VISIT_FILE_BYTES) {
    throw new FormatError(
      'visit.size',
      `${fileName} has ${text.length} characters; a visit file has at most ${LARGEST_VISIT_FILE_BYTES}.`,
      'Recordings belong in files of their own beside the visit file.',
    );
  }
  let raw: unknown;
  try {
    raw = parseJson(text);
  } catch (error) {
    throw new FormatError(
      'visit.json',
      `${fileName} is not JSON: ${(error as Error).message}.`,
      'Open it in a text editor and mend the place named, or export the visit again.',
    );
  }
  return checkVisit(raw, fileName);
}

/** Checks an object against the visit schema; see {@link parseVisitFile} for what is thrown. */
export function checkVisit(raw: unknown, fileName: string): VisitFile {
  const result = parsePlainly(visitFileSchema, raw);
  if (!result.success) {
    throw new InputError(
      'visit.field',
      `${fileName}, field ${result.field}: ${result.words}.`,
      'Correct the field in the visit file; docs/visit-file.md lists every field with its unit and range.',
    );
  }
  const visit = result.data;
  const { setYear } = visit.pole;
  const visitYear = Number(visit.measured.date.slice(0, 4));
  if (setYear != null && setYear > visitYear) {
    throw new InputError(
      'visit.field',
      `${fileName}, field pole.setYear: ${setYear} is after the visit; expected ${visitYear} at the latest.`,
      'Correct pole.setYear or measured.date.',
    );
  }
  const aboveGroundM = visit.pole.lengthM;
  const heights: [string, number][] = [
    ...visit.measured.cables.map((c, i): [string, number] => [`measured.cables[${i}].heightM`, c.heightM]),
    ...visit.measured.attachments.map((a, i): [string, number] => [
      `measured.attachments[${i}].heightM`,
      a.heightM,
    ]),
    ...visit.measured.circumferences.map((c, i): [string, number] => [
      `measured.circumferences[${i}].heightM`,
      c.heightM,
    ]),
    ['measured.sensorHeightM', visit.measured.sensorHeightM],
    ...listLoadHeights(visit.requirement),
    ...(visit.measured.staticPull
      ? ([
          ['measured.staticPull.forceHeightM', visit.measured.staticPull.forceHeightM],
          ['measured.staticPull.deflectionHeightM', visit.measured.staticPull.deflectionHeightM],
        ] satisfies [string, number][])
      : []),
  ];
  for (const [field, heightM] of heights) {
    if (heightM >= aboveGroundM) {
      throw new InputError(
        'visit.height',
        `${fileName}, field ${field}: ${heightM} m is not below the tip; the pole is ${aboveGroundM} m long.`,
        'Heights count from ground line in metres; check the height and pole.lengthM.',
      );
    }
  }
  for (const entry of visit.recordings) {
    if (/[/\\:]|^\.\.?$/.test(entry.file)) {
      throw new InputError(
        'visit.path',
        `${fileName}, field recordings.file: "${entry.file}" is a path; a plain file name is expected.`,
        'Keep recordings in the folder of the visit file and give the name alone.',
      );
    }
  }
  return visit;
}

/** The heights of a requirement's loads, with their fields. */
function listLoadHeights(requirement: VisitFile['requirement']): [string, number][] {
  if (!requirement || !('loads' in requirement)) return [];
  return (['conductors', 'equipment', 'forces'] as const).flatMap((list) =>
    requirement.loads[list].map(({ heightM }, i): [string, number] => [
      `requirement.loads.${list}[${i}].heightM`,
      heightM,
    ]),
  );
}
