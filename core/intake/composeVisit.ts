import { parsePlainly } from '../parsePlainly.ts';
import { type VisitFile, visitFileSchema } from '../recording/visitFile.ts';
import type { Answers } from './answers.ts';
import { findDoubts } from './doubts.ts';
import { type AnswerValues, type Problem, readAnswers } from './readAnswers.ts';
import type { UnitSystem } from './units.ts';

/** What a recording's file says of itself. */
export type RecordingFacts = {
  readonly file: string;
  readonly channels: number;
  /** Integers are always fractions of full scale, so that the acceleration there is needed. */
  readonly needsFullScale: boolean;
};

export type ComposedVisit = {
  /** null while something is wrong. */
  readonly visit: VisitFile | null;
  readonly problems: readonly Problem[];
};

/**
 * Makes a visit file's content of what was entered, in SI, and tells everything that is wrong or odd.
 * @param facts - of the recordings that are attached
 * @param today - year-month-day
 * @param units - that sentences are written in
 */
export function composeVisit(
  answers: Answers,
  facts: readonly RecordingFacts[],
  today: string,
  units: UnitSystem,
): ComposedVisit {
  const { values, problems: own } = readAnswers(answers);
  const problems = [...own, ...checkRecordings(values, facts), ...findDoubts(values, answers, today, units)];
  if (values.circumferences.length === 0) {
    problems.push({
      field: 'circumferences',
      level: 'wrong',
      words: 'One circumference with its height is needed.',
    });
  }
  if (problems.some(({ level }) => level === 'wrong')) return { visit: null, problems };
  const parsed = parsePlainly(visitFileSchema, writeDown(values));
  if (parsed.success) return { visit: parsed.data, problems };
  problems.push({
    field: 'visit',
    level: 'wrong',
    words: `The visit file refuses ${parsed.field}: ${parsed.words}.`,
  });
  return { visit: null, problems };
}

function checkRecordings(values: AnswerValues, facts: readonly RecordingFacts[]): Problem[] {
  const problems: Problem[] = [];
  const wrong = (field: string, words: string) => problems.push({ field, level: 'wrong', words });
  if (values.recordings.length === 0) wrong('recordings', 'One recording is needed.');
  values.recordings.forEach(({ file, channels }, r) => {
    const fact = facts.find((known) => known.file === file);
    if (!fact) wrong(`recordings.${r}`, `${file} is not attached.`);
    if (channels.length === 0) wrong(`recordings.${r}`, `No channel of ${file} is used.`);
    for (const { index, fullScale } of channels) {
      const place = `recordings.${r}.channels.${index}`;
      if (fact && index >= fact.channels) wrong(place, `${file} has ${fact.channels} channels.`);
      if (fact?.needsFullScale && fullScale === null) {
        wrong(
          `${place}.fullScale`,
          'The acceleration at full scale is needed: the file holds fractions of it. The data sheets of sensor and recorder tell it.',
        );
      }
    }
  });
  return problems;
}

/** Fields that were left empty are left out. */
function writeDown({
  pole,
  measured,
  circumferences,
  cables,
  attachments,
  recordings,
}: AnswerValues): unknown {
  return leaveOutEmpty({
    format: 'stemroot-visit',
    version: 1,
    pole: {
      id: pole.id,
      species: pole.species,
      treatment: pole.treatment,
      classCode: pole.classCode,
      lengthM: pole.length,
      setYear: pole.setYear,
      latitude: pole.latitude,
      longitude: pole.longitude,
      buttToTagM: pole.buttToTag,
    },
    measured: {
      date: measured.date,
      circumferences: circumferences.map(({ height, circumference }) => ({
        heightM: height,
        circumferenceM: circumference,
      })),
      topCircumferenceM: measured.topCircumference,
      tagHeightM: measured.tagHeight,
      sensorHeightM: measured.sensorHeight,
      sensorMassKg: measured.sensorMass,
      soil: measured.soil,
      moisturePercent: measured.moisture,
      temperatureC: measured.temperature,
      lineAzimuthDeg: measured.lineAzimuth,
      cables: cables.map((cable) => ({
        kind: cable.kind,
        count: cable.count,
        heightM: cable.height,
        azimuthDeg: cable.azimuth,
        lateralStiffnessNPerM: cable.stiffness,
        massKg: cable.mass,
      })),
      attachments: attachments.map(({ kind, height, mass }) => ({ heightM: height, massKg: mass, kind })),
      densityKgPerM3: measured.density,
      shellThicknessM: measured.shellThickness,
    },
    recordings: recordings.map((recording) => ({
      file: recording.file,
      exciter: recording.exciter,
      strikeHeightM: recording.strikeHeight,
      strikeAzimuthDeg: recording.strikeAzimuth,
      channels: recording.channels.map((channel) => ({
        index: channel.index,
        azimuthDeg: channel.azimuth,
        heightM: channel.height,
        fullScaleMPerS2: channel.fullScale,
        cornerHz: channel.corner,
      })),
    })),
  });
}

function leaveOutEmpty(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(leaveOutEmpty);
  if (typeof value !== 'object' || value === null) return value;
  const kept = Object.entries(value).flatMap(([key, part]) =>
    part === null ? [] : [[key, leaveOutEmpty(part)] as const],
  );
  return Object.fromEntries(kept);
}
