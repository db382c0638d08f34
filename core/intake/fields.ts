import type { Quantity } from './units.ts';

/** What may be entered in a field, with its range in SI. The visit file's own schema takes every value within. */
export type Field = {
  /** As messages name it, in the midst of a sentence. */
  readonly name: string;
  readonly needed: boolean;
} & (
  | { readonly kind: 'text'; readonly longest: number }
  | { readonly kind: 'choice' }
  | { readonly kind: 'date' }
  | { readonly kind: 'whole'; readonly least: number; readonly most: number; readonly symbol: string }
  | { readonly kind: 'number'; readonly least: number; readonly most: number; readonly symbol: string }
  | { readonly kind: 'quantity'; readonly quantity: Quantity; readonly least: number; readonly most: number }
);

/** Nothing on a pole is measured finer than this; it stands for "above zero". */
const LEAST_M = 0.001;

type Of<K extends Field['kind']> = Extract<Field, { readonly kind: K }>;

const text = (name: string, longest: number, needed = false): Of<'text'> => ({
  name,
  needed,
  kind: 'text',
  longest,
});
const quantity = (
  name: string,
  of: Quantity,
  [least, most]: readonly [number, number],
  needed = false,
): Of<'quantity'> => ({ name, needed, kind: 'quantity', quantity: of, least, most });
const number = (
  name: string,
  [least, most]: readonly [number, number],
  symbol: string,
  needed = false,
): Of<'number'> => ({ name, needed, kind: 'number', least, most, symbol });
const azimuth = (name: string, needed = false) => number(name, [-360, 360], '°', needed);
const height = (name: string, needed = false) => quantity(name, 'length', [LEAST_M, 60], needed);

/** Every field of the form, by the group and key of the answers. Lists have one field each for all of their rows. */
export const FIELDS = {
  pole: {
    id: text('the number of the pole', 80, true),
    species: { name: 'the species', needed: true, kind: 'choice' },
    treatment: text('the treatment', 80),
    classCode: text('the class', 4),
    length: quantity('the length of the pole', 'length', [1, 60], true),
    setYear: {
      name: 'the year in which it was set',
      needed: false,
      kind: 'whole',
      least: 1850,
      most: 2200,
      symbol: '',
    },
    buttToTag: quantity('the distance from butt to tag', 'length', [LEAST_M, 20]),
    latitude: number('the latitude', [-90, 90], '°'),
    longitude: number('the longitude', [-180, 180], '°'),
  },
  measured: {
    date: { name: 'the date', needed: true, kind: 'date' },
    topCircumference: quantity('the circumference at the tip', 'girth', [LEAST_M, 5]),
    tagHeight: quantity('the height of the tag', 'length', [0, 20]),
    sensorHeight: quantity('the height of the sensor', 'length', [LEAST_M, 30], true),
    sensorMass: quantity('the mass of the sensor', 'mass', [0, 50]),
    soil: { name: 'the soil', needed: true, kind: 'choice' },
    moisture: number('the moisture of the wood', [0.1, 200], '%'),
    temperature: quantity('the temperature', 'temperature', [-60, 60]),
    lineAzimuth: azimuth('the direction of the line'),
    density: quantity('the density of the wood', 'density', [100, 2000]),
    shellThickness: quantity('the least sound shell', 'girth', [LEAST_M, 1]),
  },
  circumferences: {
    height: quantity('the height of the tape', 'length', [0, 60], true),
    circumference: quantity('the circumference', 'girth', [0.05, 5], true),
  },
  cables: {
    kind: text('the kind of cable', 40, true),
    count: { name: 'the number of cables', needed: true, kind: 'whole', least: 1, most: 100, symbol: '' },
    height: height('the height of the cable', true),
    azimuth: azimuth('the direction of the cable', true),
    stiffness: quantity('the stiffness of the cables', 'stiffness', [0, 1e7]),
    mass: quantity('the mass of the cables', 'mass', [0, 5000]),
  },
  attachments: {
    kind: text('what is attached', 40),
    height: height('the height of what is attached', true),
    mass: quantity('the mass of what is attached', 'mass', [0.001, 5000], true),
  },
  recordings: {
    exciter: { name: 'what struck', needed: true, kind: 'choice' },
    strikeHeight: quantity('the height of the blow', 'length', [LEAST_M, 30]),
    strikeAzimuth: azimuth('the direction of the blow'),
  },
  channels: {
    azimuth: azimuth('the direction of the axis', true),
    height: quantity('the height of this axis', 'length', [LEAST_M, 30]),
    fullScale: quantity('the acceleration at full scale', 'acceleration', [LEAST_M, 1e6]),
    corner: number('the corner frequency', [0, 1000], 'Hz'),
  },
} as const satisfies Record<string, Record<string, Field>>;
