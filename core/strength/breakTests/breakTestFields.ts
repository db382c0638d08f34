import type { QuantityName } from './quantities.ts';

/** What a column may hold. Figures have a quantity and a range beyond which a unit or a column has been mistaken. */
type FieldDescription = {
  /** As shown. */
  readonly label: string;
  readonly quantity: QuantityName | null;
  /** In SI units (percent, years as they are). Limits of plausibility, ours. */
  readonly least?: number;
  readonly most?: number;
  /** Ways to name it, each as the words of {@link readHeader}, in any order. */
  readonly words: readonly string[];
};

const text = (label: string, words: readonly string[]): FieldDescription => ({
  label,
  quantity: null,
  words,
});

const figure = (
  label: string,
  quantity: QuantityName,
  [least, most]: readonly [number, number],
  words: readonly string[],
): FieldDescription => ({ label, quantity, least, most, words });

const HEIGHT = [0, 60] as const;
const GIRTH = [0.15, 4] as const;
const DIAMETER = [0.05, 1.3] as const;
const FREQUENCY = [0.1, 500] as const;

/**
 * Columns of a table of break tests. Words are lower case and in the singular, after synonyms have been brought together
 * (girth, circ: circumference; failure, rupture, breaking: break; maximum, peak, ultimate: max; fiber: fibre; ...).
 */
const BREAK_TEST_FIELDS = {
  testId: text('test', [
    'test',
    'test id',
    'test ref',
    'specimen',
    'specimen id',
    'specimen ref',
    'spec id',
    'sample',
    'sample id',
  ]),
  poleId: text('pole', [
    'pole',
    'pole id',
    'pole ref',
    'pole tag',
    'pole tag id',
    'id',
    'tag',
    'tag id',
    'structure',
    'structure id',
  ]),
  visit: text('visit before the break', ['visit', 'visit id', 'visit file']),
  testKind: text('kind of test', ['test kind', 'test type', 'test method', 'kind', 'type', 'method']),
  species: text('species', ['species', 'wood species', 'timber species', 'pole species', 'wood', 'timber']),
  treatment: text('treatment', [
    'treatment',
    'treatment type',
    'preservative',
    'preservative type',
    'preservative treatment',
  ]),
  ageYears: figure(
    'years in the ground',
    'time',
    [0, 150],
    [
      'age',
      'age year',
      'age test',
      'pole age',
      'service age',
      'service life',
      'service year',
      'year in service',
      'year in line',
      'year in ground',
    ],
  ),
  lengthM: figure(
    'length, butt to tip',
    'length',
    [2, 60],
    ['length', 'pole length', 'total length', 'overall length', 'nominal length'],
  ),
  settingDepthM: figure(
    'setting depth',
    'length',
    [0, 10],
    [
      'setting depth',
      'set depth',
      'butt set',
      'embedment',
      'embedment depth',
      'embedded depth',
      'burial depth',
      'planting depth',
      'depth',
      'depth in ground',
    ],
  ),
  groundlineCircumferenceM: figure('circumference at ground line', 'length', GIRTH, [
    'groundline circumference',
    'glc',
    'circumference',
  ]),
  groundlineDiameterM: figure('diameter at ground line', 'length', DIAMETER, [
    'groundline diameter',
    'diameter',
  ]),
  tipCircumferenceM: figure('circumference at the tip', 'length', GIRTH, ['tip circumference']),
  tipDiameterM: figure('diameter at the tip', 'length', DIAMETER, ['tip diameter']),
  loadHeightM: figure('height of the load above ground line', 'length', HEIGHT, [
    'load height',
    'load height groundline',
    'load point height',
    'load arm',
    'lever arm',
    'lever',
    'arm',
    'moment arm',
    'load groundline distance',
    'load from groundline distance',
    'load point groundline',
    'load point groundline distance',
    'load point from groundline distance',
  ]),
  loadBelowTipM: figure(
    'load below the tip',
    'length',
    [0, 20],
    [
      'load below tip',
      'load tip',
      'load tip distance',
      'load distance from tip',
      'tip load distance',
      'distance from tip',
    ],
  ),
  armLossM: figure(
    'shortening of the arm at the break',
    'length',
    [0, 20],
    ['arm loss', 'arm shortening', 'load point shift', 'longitudinal deflection'],
  ),
  breakLoadN: figure(
    'load that broke it',
    'force',
    [100, 1e6],
    [
      'break load',
      'max load',
      'break force',
      'max force',
      'load at break',
      'load',
      'force',
      'pmax',
      'p max',
      'fmax',
    ],
  ),
  breakHeightM: figure(
    'height of the break above ground line',
    'length',
    [-2, 60],
    [
      'break height',
      'break height groundline',
      'break location',
      'break point height',
      'break point',
      'break position',
    ],
  ),
  breakCircumferenceM: figure('circumference at the break', 'length', GIRTH, [
    'break circumference',
    'circumference break point',
  ]),
  breakDiameterM: figure('diameter at the break', 'length', DIAMETER, [
    'break diameter',
    'break point diameter',
  ]),
  spanM: figure(
    'span between the supports',
    'length',
    [0.1, 60],
    ['span', 'span length', 'support span', 'clear span', 'test span'],
  ),
  loadFromSupportM: figure(
    'load from the nearer support',
    'length',
    [0.01, 60],
    ['load support distance', 'load from support', 'shear span', 'load distance from support'],
  ),
  sectionDiameterM: figure(
    'diameter of the specimen',
    'length',
    [0.005, 1.3],
    ['specimen diameter', 'section diameter', 'load point diameter'],
  ),
  sectionWidthM: figure(
    'width of the specimen',
    'length',
    [0.005, 1],
    ['width', 'specimen width', 'section width', 'breadth'],
  ),
  sectionDepthM: figure(
    'depth of the specimen, along the load',
    'length',
    [0.005, 1],
    ['specimen depth', 'section depth', 'specimen height', 'section height', 'thickness'],
  ),
  groundlineMomentNm: figure(
    'moment at ground line at the break',
    'moment',
    [500, 5e6],
    [
      'moment',
      'groundline moment',
      'bending moment',
      'max moment',
      'break moment',
      'max bending moment',
      'break bending moment',
      'groundline bending moment',
      'max groundline moment',
      'groundline break moment',
      'moment capacity',
      'bending capacity',
    ],
  ),
  modulusOfRupturePa: figure(
    'modulus of rupture',
    'stress',
    [5e6, 250e6],
    [
      'mor',
      'mor groundline',
      'rupture modulus',
      'bending strength',
      'max bending stress',
      'break stress',
      'max stress',
      'max fibre stress',
      'groundline fibre stress',
      'extreme fibre stress',
      'fibre stress',
      'strength',
    ],
  ),
  modulusPa: figure(
    'modulus of elasticity',
    'stress',
    [1e9, 40e9],
    [
      'moe',
      'e',
      'modulus',
      'stem modulus',
      'elasticity modulus',
      'elastic modulus',
      'young modulus',
      'stiffness modulus',
      'stiffness e',
      'dynamic modulus',
      'dynamic moe',
      'dynamic e',
      'moedyn',
      'edyn',
      'stem moe',
    ],
  ),
  modulusErrorPercent: figure(
    'standard error of the modulus',
    'percent',
    [0, 100],
    [
      'moe error',
      'moe standard error',
      'moe se',
      'modulus error',
      'stem modulus error',
      'modulus uncertainty',
      'moe uncertainty',
      'modulus sd',
      'stem modulus sd',
      'moe sd',
    ],
  ),
  densityKgPerM3: figure('density', 'density', [150, 1600], ['density', 'wood density']),
  frequency1Hz: figure('frequency of mode 1', 'frequency', FREQUENCY, [
    'f1',
    'frequency 1',
    'mode 1',
    'mode 1 frequency',
    'natural frequency 1',
    'mode 1 natural frequency',
    'fundamental frequency',
    'fundamental natural frequency',
  ]),
  frequency2Hz: figure('frequency of mode 2', 'frequency', FREQUENCY, [
    'f2',
    'frequency 2',
    'mode 2',
    'mode 2 frequency',
    'natural frequency 2',
    'mode 2 natural frequency',
  ]),
  frequency3Hz: figure('frequency of mode 3', 'frequency', FREQUENCY, [
    'f3',
    'frequency 3',
    'mode 3',
    'mode 3 frequency',
    'natural frequency 3',
    'mode 3 natural frequency',
  ]),
  fixity: figure('fixity', 'number', [1e-3, 1e5], ['fixity', 'root fixity']),
  moisturePercent: figure('moisture', 'percent', [3, 200], ['moisture', 'moisture content', 'mc']),
  precision: figure(
    'weight of the test',
    'number',
    [1e-6, 1e6],
    ['test weight', 'statistical weight', 'precision'],
  ),
} as const satisfies Record<string, FieldDescription>;

export type BreakTestField = keyof typeof BREAK_TEST_FIELDS;

export const BREAK_TEST_FIELD_NAMES = Object.keys(BREAK_TEST_FIELDS) as [BreakTestField, ...BreakTestField[]];

/** Description of a field, its limits open where it has none. */
export function describeField(field: BreakTestField): FieldDescription {
  return BREAK_TEST_FIELDS[field];
}
