import type { Answers, Entry, Habits } from './answers.ts';
import { fromSi, QUANTITIES, type Quantity, type UnitId, type UnitSystem } from './units.ts';

/** The height of the sensor and of the tape in common practice (no source). */
const USUAL_SENSOR_HEIGHT_M = 2;
const USUAL_TAPE_HEIGHT_M = 1.7;
/** A tape is not read finer. */
const DEFAULT_DIGITS = 3;
/** Sensors are strapped with one axis along the line; from it the other is square. */
const USUAL_AZIMUTHS_DEG = [0, 90] as const;
/** Two axes of one sensor; further channels of a recorder are seldom part of it. */
const USED_CHANNELS = 2;

/** Answers at the start: what is usual, or was entered the last time, each marked as such; all else is empty. */
export function beginAnswers(units: UnitSystem, habits: Habits): Answers {
  const blank = blankIn(units);
  return {
    pole: {
      id: blank(),
      species: blank(),
      treatment: blank(),
      classCode: blank(),
      length: blank('length'),
      setYear: blank(),
      buttToTag: blank('length'),
      latitude: blank(),
      longitude: blank(),
    },
    measured: {
      // today is seldom the day of the visit, and nobody would see that it was put in
      date: blank(),
      topCircumference: blank('girth'),
      tagHeight: blank('length'),
      sensorHeight: again(habits.sensorHeight) ?? usual(USUAL_SENSOR_HEIGHT_M, QUANTITIES.length[units]),
      sensorMass: again(habits.sensorMass) ?? blank('mass'),
      soil: { text: 'unknown', unit: null, from: 'usual' },
      moisture: blank(),
      temperature: blank('temperature'),
      lineAzimuth: blank(),
      density: blank('density'),
      shellThickness: blank('girth'),
    },
    circumferences: [
      { height: usual(USUAL_TAPE_HEIGHT_M, QUANTITIES.length[units]), circumference: blank('girth') },
    ],
    cables: [],
    attachments: [],
    recordings: [],
  };
}

/**
 * Answers about a recording that was just attached: what struck, as its name says, and its first channels along and across
 * the line.
 */
export function beginRecording(
  facts: { readonly file: string; readonly channels: number },
  units: UnitSystem,
  habits: Habits,
): Answers['recordings'][number] {
  const blank = blankIn(units);
  const exciter = guessExciter(facts.file);
  return {
    file: facts.file,
    exciter: { text: exciter ?? 'unknown', unit: null, from: exciter === null ? 'usual' : 'file' },
    strikeHeight: blank('length'),
    strikeAzimuth: blank(),
    channels: Array.from({ length: facts.channels }, (_, index) => ({
      index,
      used: index < USED_CHANNELS,
      azimuth: { text: String(USUAL_AZIMUTHS_DEG[index % USED_CHANNELS]!), unit: null, from: 'usual' },
      height: blank('length'),
      fullScale: again(habits.fullScale) ?? blank('acceleration'),
      corner: again(habits.corner) ?? blank(),
    })),
  };
}

/** Rows that can be added to the lists of a visit. */
export function blankRows(units: UnitSystem): {
  circumferences: Answers['circumferences'][number];
  cables: Answers['cables'][number];
  attachments: Answers['attachments'][number];
} {
  const blank = blankIn(units);
  return {
    circumferences: { height: blank('length'), circumference: blank('girth') },
    cables: {
      kind: blank(),
      count: { text: '1', unit: null, from: 'usual' },
      height: blank('length'),
      azimuth: blank(),
      stiffness: blank('stiffness'),
      mass: blank('mass'),
    },
    attachments: { kind: blank(), height: blank('length'), mass: blank('mass') },
  };
}

/** What of a visit is likely to be the same at the next. */
export function learnHabits({ measured, recordings }: Answers): Habits {
  const channel = recordings[0]?.channels.find(({ used }) => used);
  const given = (entry: Entry | undefined) => (entry && entry.text.trim() !== '' ? entry : undefined);
  const learnt = {
    sensorHeight: given(measured.sensorHeight),
    sensorMass: given(measured.sensorMass),
    fullScale: given(channel?.fullScale),
    corner: given(channel?.corner),
  };
  return Object.fromEntries(Object.entries(learnt).filter(([, entry]) => entry !== undefined));
}

function guessExciter(file: string): 'hammer' | 'hand' | null {
  if (/hammer/i.test(file)) return 'hammer';
  return /hand|palm|push/i.test(file) ? 'hand' : null;
}

function blankIn(units: UnitSystem): (quantity?: Quantity) => Entry {
  return (quantity) => ({
    text: '',
    unit: quantity === undefined ? null : QUANTITIES[quantity][units],
    from: 'typed',
  });
}

function usual(valueM: number, unit: UnitId): Entry {
  return { text: String(Number(fromSi(valueM, unit).toPrecision(DEFAULT_DIGITS))), unit, from: 'usual' };
}

function again(entry: Entry | undefined): Entry | null {
  return entry ? { ...entry, from: 'last visit' } : null;
}
