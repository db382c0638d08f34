import { brotliDecompressSync } from 'node:zlib';
import { describe, expect, it, vi } from 'vitest';
import { hashSha256 } from '../../../core/hashSha256.ts';
import { callService, type Handlers, importVisit } from '../../../core/workspace/index.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';
import { makeCsv, makeVisitFile, makeWorkspace } from '../visitFixture.ts';
import { makeSource } from '../visitSources.ts';
import { call, encode, keepSeries, makeAssessed, PLAIN, SERIES } from './calibrationFixture.ts';
import { modulusOfPole, WITHHELD_POLE } from './measuredChain.ts';

vi.mock('../../../core/assess.ts', async () => (await import('./measuredChain.ts')).measuredChain);

const HEADER =
  'pole_id,visit,species,groundline_circumference_m,load_height_m,break_load_n,stem_modulus_gpa,moisture_percent';
const row = (pole: string, visit = '', moisture = '') =>
  `${pole},${visit},southern-pine,0.85,7,12000,9.9,${moisture}`;

describe('calibration.readTests', () => {
  it('proposes what the columns hold, and says what it would take, refuse and link, without keeping anything', async () => {
    const { handlers } = await makeAssessed(['MC-1']);
    const base64 = encode([HEADER, row('MC-1'), row('XX-1').replace('12000', 'many')].join('\n'));
    const reading = await call(handlers, 'calibration.readTests', { fileName: 'a.csv', base64 });
    expect(reading.mapping.columns.map(({ field, unit }) => [field, unit])).toContainEqual([
      'breakLoadN',
      'N',
    ]);
    expect(reading).toMatchObject({ lacks: [], rows: 2, readable: 1, linked: 1 });
    expect(reading.refused).toMatchObject([{ line: 3, column: 'break_load_n', value: 'many' }]);
    expect((await call(handlers, 'calibration.tests', {})).tests).toEqual([]);
  });

  it('says what is lacking where columns are not named, and reads by a mapping that a person changed', async () => {
    const { handlers } = await makeWorkspace();
    const file = { fileName: 'a.csv', base64: encode('pole_id,girth_m,P\nXX-1,0.85,52') };
    const reading = await call(handlers, 'calibration.readTests', file);
    expect(reading).toMatchObject({ readable: 0 });
    expect(reading.lacks.join(' ')).toContain('a breaking load, a moment or a modulus of rupture');
    const columns = reading.mapping.columns.map((column) =>
      column.header === 'P' ? { ...column, field: 'modulusOfRupturePa' as const, unit: 'MPa' } : column,
    );
    const mapping = { ...reading.mapping, columns };
    expect(await call(handlers, 'calibration.readTests', { ...file, mapping })).toMatchObject({
      lacks: [],
      readable: 1,
    });
  });

  const FULL = `${HEADER},length_m,age_years`;
  const pole = (id: string, ...[species, girthM, lengthM, years]: (string | number)[]) =>
    `${id},,${species},${girthM},7,12000,9.9,,${lengthM},${years}`;

  it('tells where table and visit are not of one pole, which is linked on the word of a person alone', async () => {
    // the visit: southern pine, 9.14 m, girth 0.842 m at 0.1 m, 28 years
    const { handlers } = await makeAssessed(['MC-1', 'MC-2', 'MC-3']);
    const table = [
      FULL,
      pole('MC-1', 'SYP', 0.88, 9.5, 29),
      pole('MC-2', 'WRC', 0.9, 12.19, 5),
      pole('MC-3', '', 0.79, '', ''),
    ].join('\n');
    const file = { fileName: 'a.csv', base64: encode(table) };
    const reading = await call(handlers, 'calibration.readTests', file);
    expect(reading).toMatchObject({ readable: 3, linked: 1 });
    const told = (test: string, line: number, ...differences: string[]) => ({
      ...{ test, line, visit: '2026-05-03', isSamePole: false },
      differences,
    });
    expect(reading.differing).toEqual([
      told(
        'MC-2',
        3,
        'species western redcedar in the table, southern pine in the visit',
        'length 12.19 m in the table, 9.14 m in the visit',
        'girth 0.90 m at ground line in the table, 0.84 m at 0.1 m in the visit',
        'years in the ground 5 in the table, 28 in the visit',
      ),
      told('MC-3', 4, 'girth 0.79 m at ground line in the table, 0.84 m at 0.1 m in the visit'),
    ]);
    const mapping = { ...reading.mapping, samePole: ['MC-3'] };
    const again = await call(handlers, 'calibration.readTests', { ...file, mapping });
    expect(again).toMatchObject({ linked: 2, differing: [{ isSamePole: false }, { isSamePole: true }] });
    await call(handlers, 'calibration.keepTests', { ...file, mapping });
    const { tests } = await call(handlers, 'calibration.tests', {});
    expect(tests.map(({ visitId }) => visitId)).toEqual([1, null, 3]);
    expect(tests[1]).toMatchObject({ modulusPa: 9.9e9, fixity: null });
    expect(tests[1]!.remark).toMatch(/^Not linked to the visit of 2026-05-03: species western redcedar in/);
    expect(tests[2]!.modulusPa).not.toBe(9.9e9);
  });

  it('allows for the taper between ground line and the height of the tape', async () => {
    const { store, handlers } = await makeWorkspace();
    const visit = makeVisitFile('MC-4');
    const circumferences = [{ heightM: 1.7, circumferenceM: 0.8 }];
    const high = { ...visit, measured: { ...visit.measured, circumferences } };
    await importVisit(store, makeSource(high, { 'MC-4.csv': makeCsv(0) }, 'MC-4.visit.json'));
    const differing = async (girthM: number) => {
      const base64 = encode([FULL, pole('MC-4', 'SYP', girthM, 9.14, 28)].join('\n'));
      return (await call(handlers, 'calibration.readTests', { fileName: 'a.csv', base64 })).differing.length;
    };
    // 0.95 times 0.8, and 1.05 times 0.8 + 1.7 x 0.05
    expect(await Promise.all([0.75, 0.77, 0.92, 0.94].map(differing))).toEqual([1, 0, 0, 1]);
  });

  it('names species that it does not know, and takes them for what a person says', async () => {
    const { handlers } = await makeWorkspace();
    const table = [
      FULL,
      pole('XX-1', 'Unobtainium', 0.9, 10, 5),
      pole('XX-2', 'Unobtainium', 0.9, 10, 6),
      pole('XX-3', 'other', 0.9, 10, 7),
      pole('XX-4', 'constructor', 0.9, 10, 7),
    ].join('\n');
    const file = { fileName: 'a.csv', base64: encode(table) };
    const { mapping, unknownSpecies } = await call(handlers, 'calibration.readTests', file);
    expect(unknownSpecies).toEqual([
      { name: 'Unobtainium', tests: 2 },
      { name: 'constructor', tests: 1 },
    ]);
    const species = { Unobtainium: 'douglas-fir' as const };
    await call(handlers, 'calibration.keepTests', { ...file, mapping: { ...mapping, species } });
    const { tests } = await call(handlers, 'calibration.tests', {});
    expect(tests.map((test) => test.species)).toEqual(['douglas-fir', 'douglas-fir', 'other', 'other']);
  });

  it('takes the unit in the heading for a column that a person names', async () => {
    const { handlers } = await makeWorkspace();
    const file = { fileName: 'a.csv', base64: encode('pole_id,girth_m,X (lbs),Y (10^6 psi)\nXX-1,0.85,1,1') };
    const { mapping } = await call(handlers, 'calibration.readTests', file);
    const fields = ['poleId', 'groundlineCircumferenceM', 'breakLoadN', 'modulusPa'] as const;
    const columns = mapping.columns.map((column, i) => ({ ...column, field: fields[i]! }));
    const named = await call(handlers, 'calibration.readTests', {
      ...file,
      mapping: { ...mapping, columns },
    });
    expect(named.mapping.columns.map(({ unit }) => unit)).toEqual([null, 'm', 'lbf', '10^6 psi']);
    expect(named.lacks).toEqual([]);
  });

  it('refuses what is no table in words', async () => {
    const { handlers } = await makeWorkspace();
    const answer = await callService(handlers, 'calibration.readTests', { fileName: 'a.csv', base64: '' });
    expect(answer).toMatchObject({ ok: false, message: expect.stringContaining('a.csv') });
  });
});

describe('calibration.keepTests', () => {
  it('keeps the very bytes of the table with their hash, and the same table once', async () => {
    const { store, handlers } = await makeWorkspace();
    expect(await keepSeries(handlers)).toEqual({
      ...{ setId: 1, isNew: true, kept: 60, refused: 0 },
      replaced: [],
    });
    expect(await keepSeries(handlers)).toMatchObject({ setId: 1, isNew: false });
    const kept = await store.db.selectFrom('break_test_sets').selectAll().executeTakeFirstOrThrow();
    const csv = makeBreakTests();
    expect(String(brotliDecompressSync(kept.csv_brotli))).toBe(csv);
    expect(kept.csv_sha256).toBe(hashSha256(csv));
    const { sets, tests } = await call(handlers, 'calibration.tests', {});
    expect(sets).toMatchObject([{ fileName: SERIES, tests: 60, refused: [] }]);
    expect(tests).toHaveLength(60);
  });

  it('keeps what was refused beside what was taken', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers, [HEADER, row('XX-1'), row('XX-2').replace('0.85', '85')].join('\n'));
    const { sets } = await call(handlers, 'calibration.tests', {});
    expect(sets).toMatchObject([
      { tests: 1, refused: [{ line: 3, value: '85', column: 'groundline_circumference_m' }] },
    ]);
  });

  it('gives tests of the same name in two tables names of their own', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers, [HEADER, row('XX-1')].join('\n'), 'first.csv');
    const said = { answer: 'keep-both', chosenBy: 'E. Engineer' } as const;
    await keepSeries(handlers, [HEADER, row('XX-1', '', '30')].join('\n'), 'second.csv', said);
    const { tests } = await call(handlers, 'calibration.tests', {});
    expect(tests.map(({ name }) => name)).toEqual(['XX-1', 'XX-1 (2, line 2)']);
    expect(tests.map(({ poleId }) => poleId)).toEqual(['XX-1', 'XX-1']);
  });
});

describe('tests that are here already', () => {
  // 83 cm are not quite the number that 0.83 m are
  const slim = (pole: string) => row(pole).replace('0.85', '0.83');
  const FIRST = [HEADER, slim('XX-1'), slim('XX-2'), slim('XX-3')].join('\n');
  /** One as it was, one with another load, one that is new. */
  const CORRECTED = [HEADER, slim('XX-1'), slim('XX-2').replace('12000', '13000'), slim('XX-4')].join('\n');
  const said = { chosenBy: 'E. Engineer' };
  const looked = (handlers: Handlers, table: string, fileName: string) => {
    const file = { fileName, base64: encode(table) };
    return call(handlers, 'calibration.readTests', file);
  };
  const makeFirst = async () => {
    const made = await makeWorkspace();
    await keepSeries(made.handlers, FIRST, 'first.csv');
    return made;
  };
  /** Names of the tests in use, with their set. */
  const inUse = async (handlers: Handlers) =>
    (await call(handlers, 'calibration.tests', {})).tests.map(({ setId, poleId }) => `${setId} ${poleId}`);

  it('are told when a table is looked at, with what differs, and whether it is that very table', async () => {
    const { handlers } = await makeFirst();
    expect(await looked(handlers, CORRECTED, 'second.csv')).toMatchObject({
      keptAs: null,
      alreadyHere: {
        words: '2 of 3 tests are here already, from first.csv, 1 with the same values, 1 with others.',
        tests: 2,
        earlier: [1, 2],
        differing: [{ test: 'XX-2', line: 3, differences: ['modulus of rupture', 'moment at ground line'] }],
      },
    });
    const inCm = FIRST.replace('circumference_m', 'circumference_cm').replaceAll('0.83', '83');
    expect((await looked(handlers, inCm, 'other.csv')).alreadyHere).toMatchObject({
      words: '3 of 3 tests are here already, from first.csv, with the same values.',
      differing: [],
    });
    expect(await looked(handlers, FIRST, 'first.csv')).toMatchObject({ keptAs: 1, alreadyHere: null });
  });

  it('are not kept before somebody said what becomes of them, of the very ones that are in use', async () => {
    const { handlers } = await makeFirst();
    const { mapping } = await looked(handlers, CORRECTED, 'second.csv');
    const wanted = { fileName: 'second.csv', base64: encode(CORRECTED), mapping };
    const keep = (request: object) =>
      callService(handlers, 'calibration.keepTests', { ...wanted, ...request });
    expect(await keep({})).toMatchObject({
      code: 'breakTests.here',
      message: expect.stringContaining('2 of 3 tests are here already'),
    });
    const alreadyHere = { ...said, earlier: [1, 3], answer: 'replace' };
    expect(await keep({ alreadyHere })).toMatchObject({ code: 'store.conflict' });
    expect((await call(handlers, 'calibration.tests', {})).sets).toHaveLength(1);
  });

  it.each([
    ['leave-out', ['1 XX-1', '1 XX-2', '1 XX-3', '2 XX-4'], [], [2, 'here already, from first.csv']],
    ['replace', ['1 XX-3', '2 XX-1', '2 XX-2', '2 XX-4'], [2, 'replaced by second.csv'], []],
    ['keep-both', ['1 XX-1', '1 XX-2', '1 XX-3', '2 XX-1', '2 XX-2', '2 XX-4'], [], []],
  ] as const)('%s: count as somebody said, who is named in list and trail', async (answer, ...expected) => {
    const { handlers } = await makeFirst();
    const kept = await keepSeries(handlers, CORRECTED, 'second.csv', { ...said, answer });
    expect(kept).toMatchObject({ setId: 2, isNew: true, kept: 3 });
    expect(kept.replaced).toEqual(
      answer === 'replace'
        ? [
            { testId: 1, by: 4 },
            { testId: 2, by: 5 },
          ]
        : [],
    );
    const [used, ...aside] = expected;
    expect(await inUse(handlers)).toEqual(used);
    const { sets, lastChoice } = await call(handlers, 'calibration.tests', {});
    expect(lastChoice).toBe(2);
    expect(sets.map(({ setAside }) => setAside.flatMap(({ tests, reason }) => [tests, reason]))).toEqual(
      aside,
    );
    const { entries } = await call(handlers, 'care.trail', { limit: 1 });
    expect(entries).toMatchObject([{ action: 'import', who: 'E. Engineer' }]);
    expect(JSON.stringify(entries[0]!.after)).toContain(answer);
  });

  const nameless = (...loads: number[]) =>
    [HEADER.replace('pole_id', 'remark'), ...loads.map((load) => row('').replace('12000', `${load}`))].join(
      '\n',
    );

  it('are taken for the same where a table leaves them without a name and they tell the same break, whatever the line', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers, nameless(12000), 'first.csv');
    await keepSeries(handlers, nameless(14000), 'second.csv');
    expect((await looked(handlers, nameless(13000), 'third.csv')).alreadyHere).toBeNull();
    const found = (await looked(handlers, nameless(13000, 14000), 'third.csv')).alreadyHere;
    expect(found?.words).toBe('1 of 2 tests are here already, from second.csv, with the same values.');
    const said = { answer: 'replace', chosenBy: 'E. Engineer' } as const;
    await keepSeries(handlers, nameless(13000, 14000), 'third.csv', said);
    expect((await inUse(handlers)).map((name) => name.split(' ')[0])).toEqual(['1', '3', '3']);
    const named = [HEADER, row('XX-7').replace('12000', '13000')].join('\n');
    expect((await looked(handlers, named, 'named.csv')).alreadyHere).toMatchObject({ tests: 1 });
  });

  it('are taken for the same under two names of one pole where they tell the same break', async () => {
    const { handlers } = await makeFirst();
    const lower = FIRST.replaceAll('XX-', 'xx-').replace('12000', '13000');
    expect((await looked(handlers, lower, 'lower.csv')).alreadyHere).toMatchObject({ tests: 2 });
  });

  it('differ where one table has figures that the other has not', async () => {
    const { handlers } = await makeFirst();
    const more = FIRST.replace(HEADER, `${HEADER},f1_hz`).replaceAll(/^(XX.*)$/gm, '$1,2.1');
    const found = (await looked(handlers, more, 'more.csv')).alreadyHere;
    expect(found?.differing[0]?.differences).toEqual(['frequencies']);
  });
});

describe('a table that is set aside', () => {
  const choose = (handlers: Handlers, standing: 'in use' | 'set aside', more = {}) =>
    callService(handlers, 'calibration.chooseTests', {
      ...{ setId: 1, standing, chosenBy: 'E. Engineer', reason: 'wrong yard' },
      ...more,
    });

  it('is in no fit, stays with who, when and why, and is taken up again', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    expect(await choose(handlers, 'set aside')).toMatchObject({ ok: true, value: { tests: 60 } });
    const aside = await call(handlers, 'calibration.tests', {});
    expect(aside).toMatchObject({
      tests: [],
      notes: [],
      sets: [{ tests: 60, setAside: [{ tests: 60, chosenBy: 'E. Engineer', reason: 'wrong yard' }] }],
    });
    const candidates = [{ name: 'stiffness', spec: PLAIN }];
    const tried = await call(handlers, 'calibration.tryRelations', { candidates });
    expect(tried).toMatchObject({ commonTests: 0, relations: [{ judged: null }] });
    const { entries } = await call(handlers, 'care.trail', { limit: 1 });
    expect(entries).toMatchObject([
      { action: 'set', subject: `break tests, ${SERIES}`, who: 'E. Engineer', why: 'wrong yard' },
    ]);
    expect(await choose(handlers, 'set aside')).toMatchObject({ code: 'breakTests.standing' });
    expect(await choose(handlers, 'in use', { setId: 7 })).toMatchObject({ code: 'breakTests.unknown' });
    expect(await choose(handlers, 'in use')).toMatchObject({ ok: true, value: { tests: 60 } });
    expect((await call(handlers, 'calibration.tests', {})).tests).toHaveLength(60);
  });

  it('is not taken up beside the table that replaced it, unless somebody says so', async () => {
    const { handlers } = await makeWorkspace();
    const rows = ['XX-1', 'XX-2', 'XX-3'].map((pole) => row(pole));
    await keepSeries(handlers, [HEADER, ...rows].join('\n'), 'first.csv');
    const two = [HEADER, ...rows.slice(0, 2)].join('\n');
    await keepSeries(handlers, two, 'second.csv', { answer: 'replace', chosenBy: 'E. Engineer' });
    const { sets } = await call(handlers, 'calibration.tests', {});
    expect(sets.map(({ alreadyHere }) => alreadyHere?.words ?? null)).toEqual([
      '2 of 2 tests are here already, from second.csv, with the same values.',
      null,
    ]);
    expect(await choose(handlers, 'in use')).toMatchObject({ code: 'breakTests.here' });
    const answered = (answer: string) =>
      choose(handlers, 'in use', { alreadyHere: { answer, earlier: [4, 5] } });
    expect(await answered('leave-out')).toMatchObject({ code: 'breakTests.standing' });
    expect(await answered('replace')).toMatchObject({
      ok: true,
      value: {
        tests: 2,
        replaced: [
          { testId: 4, by: 1 },
          { testId: 5, by: 2 },
        ],
      },
    });
    const used = async () => (await call(handlers, 'calibration.tests', {})).tests.map(({ setId }) => setId);
    expect(await used()).toEqual([1, 1, 1]);
    const back = { setId: 2, alreadyHere: { answer: 'keep-both', earlier: [1, 2] } };
    expect(await choose(handlers, 'in use', back)).toMatchObject({ ok: true, value: { tests: 2 } });
    expect(await used()).toEqual([1, 1, 1, 2, 2]);
  });

  it('that counts beside another has its poles counted before its tests', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    await keepSeries(handlers, `${makeBreakTests()}\n`, 'again.csv', {
      ...{ answer: 'keep-both', chosenBy: 'E. Engineer' },
    });
    const candidate = { name: 'stiffness', spec: PLAIN };
    const { lines, weaknesses } = await call(handlers, 'calibration.appraise', { candidate });
    expect(lines[0]).toEqual({ name: 'Tests', text: '60 poles, in 120 break tests' });
    expect(weaknesses).toContainEqual({
      id: 'pole-repeated',
      text: expect.stringContaining('120 of 120 tests, of 60 poles'),
    });
  });
});

describe('a test of a pole that was visited', () => {
  it('takes stiffness, frequencies and fixity from the visit, the rest from its table', async () => {
    const { handlers } = await makeAssessed(['MC-4']);
    await keepSeries(handlers, [HEADER, row('MC-4', '', '31')].join('\n'));
    const [test] = (await call(handlers, 'calibration.tests', {})).tests;
    expect(test).toMatchObject({
      visitId: 1,
      remark: null,
      circumferenceM: 0.85,
      moisturePercent: 31,
      fixity: 14.2,
    });
    // posterior 1 / 0.06^2 = prior 1 / 0.2^2 + measurement: by hand
    const precision = 0.06 ** -2 - 0.2 ** -2;
    expect(test!.modulusLogSd).toBeCloseTo(precision ** -0.5, 6);
    const shift = (Math.log(modulusOfPole('MC-4') / 11e9) * 0.06 ** -2) / precision;
    expect(test!.modulusPa! / 1e9).toBeCloseTo(11 * Math.exp(shift), 4);
    // the fixture's pole carries cables and a crossarm: its frequencies are not those of a bare pole
    expect(test!.frequenciesHz).toEqual([null, null, null]);
  });

  it('is linked to the visit that its table names, and says so where there is none', async () => {
    const { handlers } = await makeAssessed(['MC-4', 'MC-5', 'MC-6']);
    const rows = [row('MC-4', '2026-05-03'), row('MC-5', 'MC-5.visit.json'), row('MC-6', '2001-01-01')];
    await keepSeries(handlers, [HEADER, ...rows].join('\n'));
    const { tests } = await call(handlers, 'calibration.tests', {});
    expect(tests.map(({ visitId }) => visitId)).toEqual([1, 2, null]);
    expect(tests[2]).toMatchObject({ remark: 'Pole MC-6 has no visit "2001-01-01" here.', modulusPa: 9.9e9 });
  });

  it('keeps the figures of its table where the result of the visit is withheld', async () => {
    const { handlers } = await makeAssessed([WITHHELD_POLE]);
    await keepSeries(handlers, [HEADER, row(WITHHELD_POLE)].join('\n'));
    const [test] = (await call(handlers, 'calibration.tests', {})).tests;
    expect(test).toMatchObject({ visitId: 1, modulusPa: 9.9e9 });
    expect(test!.remark).toMatch(/is withheld \(No strike was found in the recordings\.\)/);
  });

  it('keeps the figures of its table where a prior set by hand is in the modulus of the visit', async () => {
    const { store, handlers } = await makeAssessed([]);
    const options = { priors: { modulusPa: { median: 14e9, logSd: 0.05 } } };
    const visit = { ...makeVisitFile('MC-4'), options };
    await importVisit(store, makeSource(visit, { 'MC-4.csv': makeCsv(0) }, 'MC-4.visit.json'));
    await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    await keepSeries(handlers, [HEADER, row('MC-4')].join('\n'));
    const [test] = (await call(handlers, 'calibration.tests', {})).tests;
    expect(test).toMatchObject({ visitId: 1, modulusPa: 9.9e9 });
    expect(test!.remark).toMatch(/^A prior set by hand is in the result/);
  });

  it('takes none of several visits where its table names none', async () => {
    const { store, handlers } = await makeAssessed(['MC-8']);
    const files = { 'MC-8.csv': makeCsv(7) };
    const later = makeVisitFile('MC-8', { date: '2027-06-01' });
    await importVisit(store, makeSource(later, files, 'later.visit.json'));
    await keepSeries(handlers, [HEADER, row('MC-8')].join('\n'));
    const [test] = (await call(handlers, 'calibration.tests', {})).tests;
    expect(test).toMatchObject({ visitId: null, modulusPa: 9.9e9 });
    expect(test!.remark).toContain('has 2 visits (2026-05-03, 2027-06-01) and the table names none');
  });

  it('keeps the figures of its table where the visit has no result', async () => {
    const { handlers } = await makeWorkspace('MC-7');
    await keepSeries(handlers, [HEADER, row('MC-7')].join('\n'));
    const [test] = (await call(handlers, 'calibration.tests', {})).tests;
    expect(test).toMatchObject({ visitId: 1, modulusPa: 9.9e9 });
    expect(test!.remark).toContain('has no stem');
  });
});
