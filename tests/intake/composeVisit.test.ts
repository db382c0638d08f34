import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Answers,
  beginAnswers,
  beginRecording,
  blankRows,
  composeVisit,
  type Entry,
  echoAnswers,
  FIELDS,
  type Field,
  learnHabits,
  type QUANTITIES,
  type RecordingFacts,
  toSi,
  type UnitId,
  type UnitSystem,
} from '../../core/intake/index.ts';
import { checkVisit } from '../../core/recording/visitFile.ts';

const TODAY = '2026-07-01';
const FACTS: readonly RecordingFacts[] = [
  { file: 'hammer.wav', channels: 2, needsFullScale: true },
  { file: 'hand.wav', channels: 2, needsFullScale: false },
];

const SI_UNITS = {
  length: 'm',
  girth: 'm',
  mass: 'kg',
  temperature: 'degC',
  density: 'kgPerM3',
  acceleration: 'mPerS2',
  stiffness: 'nPerM',
} as const satisfies Record<keyof typeof QUANTITIES, UnitId>;

const typed = (text: string, unit: UnitId | null = null): Entry => ({ text, unit, from: 'typed' });

/** A whole visit as a crew with feet, inches and pounds writes it down. */
function writeSheet(change: (answers: Answers) => void = () => {}): Answers {
  const answers = beginAnswers('us', {});
  answers.measured.date = typed(TODAY);
  answers.pole.id = typed('KV-9001');
  answers.pole.species = typed('southern-pine');
  answers.pole.classCode = typed('4');
  answers.pole.length = typed('35', 'ft');
  answers.pole.buttToTag = typed(`10'`, 'ft');
  answers.measured.tagHeight = typed('4 ft 6 in', 'ft');
  answers.measured.temperature = typed('59', 'degF');
  answers.measured.sensorMass = typed('1', 'lb');
  answers.circumferences = [{ height: typed('5.5', 'ft'), circumference: typed('31 1/2', 'in') }];
  answers.recordings = FACTS.map((facts) => beginRecording(facts, 'us', {}));
  for (const channel of answers.recordings[0]!.channels) channel.fullScale = typed('10', 'g');
  change(answers);
  return answers;
}

const compose = (answers: Answers, units: UnitSystem = 'us') => composeVisit(answers, FACTS, TODAY, units);
const wordsOn = (answers: Answers, field: string) =>
  compose(answers)
    .problems.filter((problem) => problem.field === field)
    .map(({ level, words }) => `${level}: ${words}`);

describe('composeVisit', () => {
  test('writes what a crew entered in feet and inches as a valid visit file in SI, without a word of doubt', () => {
    const { visit, problems } = compose(writeSheet());
    expect(problems).toEqual([]);
    // 35 ft, 10 ft, 4.5 ft, 5.5 ft, 31.5 in, 59 degF, 1 lb, 10 g by NIST SP 811, appendix B.8
    expect(visit).toMatchObject({
      pole: { id: 'KV-9001', lengthM: 10.668, buttToTagM: 3.048 },
      measured: {
        date: TODAY,
        tagHeightM: 1.3716,
        temperatureC: 15,
        sensorMassKg: 0.45359237,
        circumferences: [{ heightM: 1.6764, circumferenceM: 0.8001 }],
        soil: 'unknown',
      },
      recordings: [
        {
          file: 'hammer.wav',
          exciter: 'hammer',
          channels: [{ azimuthDeg: 0, fullScaleMPerS2: 98.0665 }, {}],
        },
        { file: 'hand.wav', exciter: 'hand' },
      ],
    });
    expect(checkVisit(JSON.parse(JSON.stringify(visit)), 'made.visit.json')).toEqual(visit);
    expect(visit!.recordings[1]!.channels[0]).not.toHaveProperty('fullScaleMPerS2');
  });

  test('an empty form names all that is needed, and writes nothing', () => {
    const { visit, problems } = composeVisit(beginAnswers('metric', {}), [], TODAY, 'metric');
    expect(visit).toBeNull();
    expect(problems.map(({ field }) => field)).toEqual([
      'pole.id',
      'pole.species',
      'pole.length',
      'measured.date',
      'circumferences.0.circumference',
      'recordings',
    ]);
  });

  test.each<[string, (answers: Answers) => void, string, RegExp]>([
    ['no number', (a) => (a.pole.length = typed('ten', 'm')), 'pole.length', /^wrong: "ten" is no number\.$/],
    [
      'a length out of range, named in its unit',
      (a) => (a.pole.length = typed('350', 'ft')),
      'pole.length',
      /^wrong: Between 3\.281 ft and 196\.9 ft can be taken\.$/,
    ],
    [
      'a comma that may part thousands or decimals',
      (a) =>
        a.attachments.push({ kind: typed(''), height: typed('25', 'ft'), mass: typed('1,500 lb', 'lb') }),
      'attachments.0.mass',
      /^wrong: Type 1500, or 1\.500 with a point: the comma may mean either\.$/,
    ],
    [
      'a day that is none',
      (a) => (a.measured.date = typed('2026-02-30')),
      'measured.date',
      /^wrong: A day is written/,
    ],
    [
      'a tag above its distance from the butt',
      (a) => (a.measured.tagHeight = typed('11', 'ft')),
      'measured.tagHeight',
      /^wrong: .*the butt would not be in the ground/,
    ],
    [
      'a sensor above the tip',
      (a) => (a.measured.sensorHeight = typed('12', 'm')),
      'measured.sensorHeight',
      /wrong: .*above its tip/,
    ],
    [
      'a full scale that is needed',
      (a) => (a.recordings[0]!.channels[1]!.fullScale = typed('', 'g')),
      'recordings.0.channels.1.fullScale',
      /^wrong: The acceleration at full scale is needed/,
    ],
    [
      'a recording that is not attached',
      (a) => (a.recordings[0]!.file = 'gone.wav'),
      'recordings.0',
      /^wrong: gone\.wav is not attached/,
    ],
    [
      'no channel in use',
      (a) => {
        for (const channel of a.recordings[0]!.channels) channel.used = false;
      },
      'recordings.0',
      /^wrong: No channel of hammer\.wav is used/,
    ],
    [
      'a pole set after the visit',
      (a) => (a.pole.setYear = typed('2030')),
      'pole.setYear',
      /^wrong: .*set after it was visited/,
    ],
    [
      'a control character',
      (a) => (a.pole.id = typed('a\u0007b')),
      'pole.id',
      /^wrong: Only plain characters/,
    ],
  ])('refuses %s', (_, change, field, words) => {
    const answers = writeSheet((sheet) => void change(sheet));
    expect(compose(answers).visit).toBeNull();
    expect(wordsOn(answers, field).join('\n')).toMatch(words);
  });

  test.each<[string, (answers: Answers) => void, string, RegExp]>([
    [
      'inches typed as centimetres',
      (a) => (a.circumferences[0]!.circumference = typed('33.5', 'cm')),
      'circumferences.0.circumference',
      /Was it in inches\?/,
    ],
    [
      'a girth that would do for the class above with some to spare',
      (a) => (a.circumferences[0]!.circumference = typed('33.5', 'in')),
      'circumferences.0.circumference',
      /29\.7 in to 32\.1 in round here, and this is 33\.5 in/,
    ],
    [
      'centimetres typed as inches',
      (a) => (a.circumferences[0]!.circumference = typed('85', 'in')),
      'circumferences.0.circumference',
      /Was it in centimetres\?/,
    ],
    [
      'a diameter',
      (a) => (a.circumferences[0]!.circumference = typed('10.7', 'in')),
      'circumferences.0.circumference',
      /Is this the diameter\?/,
    ],
    [
      'a girth of a far smaller class',
      (a) => (a.circumferences[0]!.circumference = typed('25', 'in')),
      'circumferences.0.circumference',
      /Check tape, class and height/,
    ],
    [
      'a density that its species has at no moisture of a pole',
      (a) => {
        a.measured.density = typed('1200', 'kgPerM3');
        a.measured.moisture = typed('23');
      },
      'measured.density',
      /^odd: A density of 75 lb\/ft³ was measured, where wood of this species weighs \d+ lb\/ft³ to \d+ lb\/ft³ at 23 % moisture\. The modulus/,
    ],
    [
      'a tag that would leave little in the ground',
      (a) => (a.measured.tagHeight = typed('8', 'ft')),
      'measured.tagHeight',
      /gives 2 ft in the ground; .* about 5\.47 ft deep/,
    ],
    [
      'a tag in the upper half',
      (a) => (a.pole.buttToTag = typed('20', 'ft')),
      'pole.buttToTag',
      /lower half/,
    ],
    ['feet typed as metres', (a) => (a.pole.length = typed('35', 'm')), 'pole.length', /Was it in feet\?/],
    [
      'a sensor out of reach',
      (a) => (a.measured.sensorHeight = typed('6', 'm')),
      'measured.sensorHeight',
      /about 6\.56 ft/,
    ],
    ['a day to come', (a) => (a.measured.date = typed('2026-07-02')), 'measured.date', /still to come/],
    [
      'a class that nobody knows',
      (a) => (a.pole.classCode = typed('44')),
      'pole.classCode',
      /No class of this name/,
    ],
    [
      'axes that are not square',
      (a) => (a.recordings[0]!.channels[1]!.azimuth = typed('10')),
      'recordings.0.channels.1.azimuth',
      /square/,
    ],
    ['no blow by hand', (a) => (a.recordings[1]!.exciter = typed('hammer')), 'recordings', /no blow by hand/],
    [
      'a shell thicker than the pole',
      (a) => (a.measured.shellThickness = typed('6', 'in')),
      'measured.shellThickness',
      /5 in from its middle/,
    ],
    ['dry wood', (a) => (a.measured.moisture = typed('2')), 'measured.moisture', /8 to 60 %/],
    [
      'a tip thicker than the pole below',
      (a) => (a.measured.topCircumference = typed('40', 'in')),
      'measured.topCircumference',
      /thicker at its tip/,
    ],
    [
      'girths that grow upwards',
      (a) => a.circumferences.push({ height: typed('2', 'm'), circumference: typed('36', 'in') }),
      'circumferences.0.circumference',
      /thicker higher up/,
    ],
  ])('takes %s, with a doubt', (_, change, field, words) => {
    const answers = writeSheet((sheet) => void change(sheet));
    const { visit } = compose(answers);
    if (field !== 'pole.length') expect(visit).not.toBeNull();
    expect(wordsOn(answers, field).join('\n')).toMatch(words);
  });

  test('speaks the units of the form, whatever an answer was typed in', () => {
    const answers = writeSheet((a) => {
      a.pole.length = typed('10.668', 'm');
      a.measured.tagHeight = typed('8', 'ft');
    });
    const depth = (units: UnitSystem) =>
      compose(answers, units).problems.find(({ field }) => field === 'measured.tagHeight')?.words;
    expect(depth('us')).toMatch(/gives 2 ft in the ground/);
    expect(depth('metric')).toMatch(/gives 0\.61 m in the ground/);
  });

  test('asks of no unit whether it is the one that was typed', () => {
    const answers = writeSheet((a) => {
      a.pole.length = typed('120', 'ft');
      a.circumferences[0]!.circumference = typed('13', 'in');
    });
    expect(wordsOn(answers, 'pole.length')).toEqual(['odd: 120 ft is long for a pole. Is this its length?']);
    // where the class tells: 13 in is 33 cm for 13 in
    answers.pole.length = typed('35', 'ft');
    expect(wordsOn(answers, 'circumferences.0.circumference').join()).toMatch(/Check tape, class and height/);
  });

  test('takes numbers with the unit of their field behind them', () => {
    const answers = writeSheet((a) => {
      a.pole.length = typed('35 ft', 'ft');
      a.circumferences[0]!.circumference = typed('31 1/2″', 'in');
      a.measured.sensorMass = typed('1 lb', 'lb');
      a.measured.tagHeight = typed('4’ 6”', 'ft');
    });
    expect(compose(answers).visit).toEqual(compose(writeSheet()).visit);
    answers.measured.sensorMass = typed('1 kg', 'lb');
    expect(wordsOn(answers, 'measured.sensorMass')).toEqual(['wrong: "1 kg" is no number.']);
  });

  test('whatever can be taken in each field makes a file that the visit schema takes', () => {
    const quantities = (['pole', 'measured'] as const).flatMap((group) =>
      Object.entries<Field>(FIELDS[group]).flatMap(([key, field]) =>
        field.kind === 'quantity' || field.kind === 'number' ? [{ group, key, field }] : [],
      ),
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...quantities),
        fc.double({ min: 0, max: 1, noNaN: true }),
        ({ group, key, field }, share) => {
          const value = field.least + share * (field.most - field.least);
          const answers = writeSheet((sheet) => {
            const entries = sheet[group] as Record<string, Entry>;
            const unit = field.kind === 'quantity' ? SI_UNITS[field.quantity] : null;
            entries[key] = typed(value.toFixed(9), unit);
          });
          const { visit, problems } = compose(answers);
          // beside each other values may be refused, but never by the schema
          expect(problems.filter((problem) => problem.field === 'visit')).toEqual([]);
          if (visit) checkVisit(JSON.parse(JSON.stringify(visit)), 'made.visit.json');
        },
      ),
    );
  });
});

describe('echoAnswers', () => {
  const wordsOf = (units: UnitSystem) => {
    const answers = beginAnswers('metric', {});
    answers.pole.length = typed('10.7', 'm');
    answers.pole.buttToTag = typed('10', 'ft');
    answers.measured.temperature = typed('15', 'degC');
    answers.circumferences[0]!.circumference = typed('85', 'cm');
    const echoes = echoAnswers(answers, units);
    return new Map(echoes.map(({ field, words }) => [field, words]));
  };

  test('tells what the file will hold, and metric answers in US customary units where these are asked for', () => {
    expect(Object.fromEntries(wordsOf('metric'))).toEqual({
      'pole.buttToTag': '3.048 m',
      'circumferences.0.circumference': '0.85 m',
    });
    expect(Object.fromEntries(wordsOf('us'))).toEqual({
      'pole.length': '35.105 ft',
      'pole.buttToTag': '3.048 m',
      'measured.temperature': '59 °F',
      'measured.sensorHeight': '6.5617 ft',
      'circumferences.0.height': '5.5774 ft',
      'circumferences.0.circumference': '0.85 m, 33.465 in',
    });
  });
});

describe('defaults', () => {
  test('are marked by where they come from', () => {
    const answers = beginAnswers('metric', {});
    expect(answers.measured.sensorHeight).toEqual({ text: '2', unit: 'm', from: 'usual' });
    expect(answers.circumferences[0]!.height).toEqual({ text: '1.7', unit: 'm', from: 'usual' });
    // the day of the visit is nobody's to guess
    expect(answers.measured.date).toEqual({ text: '', unit: null, from: 'typed' });
    expect(answers.pole.length).toEqual({ text: '', unit: 'm', from: 'typed' });
    const inFeet = beginAnswers('us', {}).measured.sensorHeight;
    expect(toSi(Number(inFeet.text), inFeet.unit!)).toBeCloseTo(2, 2);
  });

  test('what a crew does alike is taken from the visit before', () => {
    const habits = learnHabits(writeSheet());
    const next = beginAnswers('us', habits);
    expect(next.measured.sensorMass).toEqual({ text: '1', unit: 'lb', from: 'last visit' });
    const recording = beginRecording(FACTS[0]!, 'us', habits);
    expect(recording.channels[1]!.fullScale).toEqual({ text: '10', unit: 'g', from: 'last visit' });
  });

  test('what struck is guessed from the name of the file; only two channels are used', () => {
    const guess = (file: string) => beginRecording({ file, channels: 4 }, 'metric', {});
    expect(guess('KV-1-Hammer-2.wav').exciter).toEqual({ text: 'hammer', unit: null, from: 'file' });
    expect(guess('by_hand.csv').exciter.text).toBe('hand');
    expect(guess('take 3.wav').exciter).toEqual({ text: 'unknown', unit: null, from: 'usual' });
    expect(guess('a.wav').channels.map(({ used }) => used)).toEqual([true, true, false, false]);
  });

  test('new rows of a list are empty but for one cable', () => {
    const { cables, attachments } = blankRows('us');
    expect(cables.count.text).toBe('1');
    expect(attachments.mass).toEqual({ text: '', unit: 'lb', from: 'typed' });
  });
});
