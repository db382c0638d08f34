import { describe, expect, it, vi } from 'vitest';
import { calibrationFromDocument, fitRelation, readBreakTests } from '../../../core/strength/index.ts';
import { callService, createWorkspaceService } from '../../../core/workspace/index.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';
import { expectFrozen } from '../expectFrozen.ts';
import { makeStore, makeWorkspace } from '../visitFixture.ts';
import { call, encode, keepSeries, makeAssessed, PLAIN, publish, recompute } from './calibrationFixture.ts';
import { measuredChain } from './measuredChain.ts';

vi.mock('../../../core/assess.ts', async () => (await import('./measuredChain.ts')).measuredChain);

async function makePublished() {
  const { store, handlers } = await makeWorkspace('MC-1');
  await keepSeries(handlers);
  const calibrationId = await publish(handlers);
  return { store, handlers, calibrationId };
}

describe('calibration.tryRelations', () => {
  it('judges candidates side by side, as the relations themselves say', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    const candidates = [
      { name: 'plain', spec: PLAIN },
      { name: 'pooled', spec: { ...PLAIN, species: 'pooled' as const } },
    ];
    const { commonTests, unused, relations } = await call(handlers, 'calibration.tryRelations', {
      candidates,
    });
    expect([commonTests, unused]).toEqual([60, []]);
    expect(relations.map(({ name, problem }) => [name, problem])).toEqual([
      ['plain', null],
      ['pooled', null],
    ]);
    const { rows } = readBreakTests(Buffer.from(makeBreakTests()), 'a.csv');
    const fit = fitRelation(rows, PLAIN);
    const { judged } = relations[0]!;
    // ln(stress/Pa) = a + b ln(E/Pa), at the mean of ln E
    const [a, b] = fit.relation.coefficients as [number, number];
    const { mean } = fit.range.predictors[0]!;
    const [middle, slope] = judged!.terms;
    expect(middle).toMatchObject({ label: 'stress at ground line at the means of the tests', unit: 'MPa' });
    expect(middle!.value).toBeCloseTo(Math.exp(a + b * mean) / 1e6, 9);
    expect(slope).toMatchObject({ label: 'modulus of elasticity', unit: 'as exponent', value: b });
    const [megapascals, gigapascals] = [middle!.value, Math.exp(mean) / 1e9].map((x) => x.toPrecision(3));
    expect(judged!.formula).toBe(
      `stress at ground line = ${megapascals} MPa × (modulus of elasticity / ${gigapascals} GPa)^${b.toPrecision(3)}`,
    );
    expect(judged!.standardError).toBe(fit.relation.residualScale);
    expect(judged!.tests.map(({ testId }) => testId)).toEqual(Array.from({ length: 60 }, (_, i) => i + 1));
    // groundline stress by 32 pi^2 M / C^3, by hand for the first pole: 7335 N at 7.02 m, girth 0.660 m
    expect(judged!.tests[0]!.measuredPa).toBeCloseTo((32 * Math.PI ** 2 * 7335 * 7.02) / 0.66 ** 3, -1);
  });

  it('leaves out what it is told to, and says why a candidate cannot be fitted, which takes no test from the others', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    const { commonTests, relations } = await call(handlers, 'calibration.tryRelations', {
      candidates: [
        { name: 'plain', spec: PLAIN },
        { name: 'by density', spec: { ...PLAIN, predictors: ['specificModulus'] } },
      ],
      leftOut: [1, 2, 3],
    });
    expect(commonTests).toBe(57);
    expect(relations.map(({ problem }) => problem?.code)).toEqual([undefined, 'relation.tests']);
    expect(relations[0]!.judged!.tests.map(({ testId }) => testId)[0]).toBe(4);
  });

  it('tells what more tests would buy', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    const { points, now, withMore } = await call(handlers, 'calibration.learning', {
      candidate: { name: 'plain', spec: PLAIN },
    });
    expect(points.at(-1)).toMatchObject({ tests: 80, isForecast: true });
    expect([now.tests, withMore.tests]).toEqual([60, 80]);
    expect(withMore.reach).toBeLessThan(now.reach);
  });
});

describe('a published calibration', () => {
  it('is listed with its tests, its range and who published it', async () => {
    const { handlers } = await makePublished();
    const { calibrations, inForce } = await call(handlers, 'calibration.overview', {});
    expect(calibrations.map(({ label, origin, tests, results }) => [label, origin, tests, results])).toEqual([
      ['series@1', 'published', 60, 0],
      ['handbook@1', 'built in', 0, 0],
    ]);
    expect(calibrations[0]).toMatchObject({ author: 'E. Engineer', note: 'invented series' });
    const modulus = calibrations[0]!.range.find(({ name }) => name === 'modulus')!;
    const gpa = readBreakTests(Buffer.from(makeBreakTests()), 'a.csv').rows.map(
      (row) => row.modulusPa! / 1e9,
    );
    expect(modulus).toMatchObject({ unit: 'GPa' });
    expect(modulus.min).toBeCloseTo(Math.min(...gpa), 9);
    expect(modulus.max).toBeCloseTo(Math.max(...gpa), 9);
    expect(inForce.label).toBe('handbook@1');
  });

  it('gets the next number under the same name', async () => {
    const { handlers } = await makePublished();
    await publish(handlers, 'series', { ...PLAIN, species: 'pooled' });
    const { calibrations } = await call(handlers, 'calibration.overview', {});
    expect(calibrations.map(({ label }) => label)).toEqual(['series@2', 'series@1', 'handbook@1']);
  });

  it('is refused where its relation cannot be fitted, or its name is of the wrong form', async () => {
    const { handlers } = await makeWorkspace();
    const request = { candidate: { name: 'a', spec: PLAIN }, name: 'series', author: 'E', note: 'invented' };
    expect(await callService(handlers, 'calibration.publish', request)).toMatchObject({
      code: 'relation.tests',
    });
    expect(
      await callService(handlers, 'calibration.publish', { ...request, name: 'My Series' }),
    ).toMatchObject({
      code: 'call.request',
    });
  });

  it('goes to another workspace as one file and predicts the same there', async () => {
    const { handlers, calibrationId } = await makePublished();
    const { fileName, json } = await call(handlers, 'calibration.export', { calibrationId });
    expect(fileName).toBe('series-1.calibration.json');
    const other = createWorkspaceService(await makeStore());
    const file = { fileName, base64: encode(json) };
    expect(await call(other, 'calibration.import', file)).toMatchObject({ label: 'series@1', isNew: true });
    expect(await call(other, 'calibration.import', file)).toMatchObject({ isNew: false });
    const again = await call(other, 'calibration.export', { calibrationId: 1 });
    expect(again.json).toBe(json);
    expect(() => calibrationFromDocument(JSON.parse(json))).not.toThrow();
  });

  it.each([
    [
      'a test was changed',
      (text: string) => text.replace(/"moisturePercent": \d+/, '"moisturePercent": 99'),
      'calibration.hash',
    ],
    [
      'another has its name',
      (text: string) => text.replace('invented series', 'another series'),
      'calibration.taken',
    ],
    ['it is no JSON', (text: string) => text.slice(0, 100), 'calibration.json'],
    ['it is another file', () => '{}', 'calibration.format'],
  ])('is not brought in where %s', async (_, change, code) => {
    const { handlers, calibrationId } = await makePublished();
    const { json } = await call(handlers, 'calibration.export', { calibrationId });
    const file = { fileName: 'series.json', base64: encode(change(json)) };
    expect(await callService(handlers, 'calibration.import', file)).toMatchObject({ ok: false, code });
  });
});

describe('calibration.use', () => {
  it('has new results take a calibration, keeps who chose what and why, and leaves results that are there', async () => {
    const { store, handlers } = await makeAssessed(['MC-3']);
    await keepSeries(handlers);
    const calibrationId = await publish(handlers);
    await call(handlers, 'calibration.use', {
      calibrationId,
      chosenBy: 'E. Engineer',
      reason: 'better by half',
    });
    const before = await call(handlers, 'visit.open', { visitId: 1 });
    expect(before.assessment!.strength!.calibration).toBe('handbook@1');
    const { assessment } = await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    expect(assessment.strength!.calibration).toBe('series@1');
    const tried = await call(handlers, 'visit.tryPicks', { visitId: 1, decisions: [] });
    expect(tried.assessment.strength!.calibration).toBe('series@1');
    const [, row] = await store.db.selectFrom('assessments').select('settings_json').execute();
    const kept = await store.db
      .selectFrom('calibrations')
      .select('document_sha256')
      .executeTakeFirstOrThrow();
    expect(JSON.parse(row!.settings_json)).toMatchObject({
      calibration: 'series@1',
      calibrationSha256: kept.document_sha256,
    });
    await call(handlers, 'calibration.use', { calibrationId: null, chosenBy: 'A. Analyst' });
    const { inForce, choices } = await call(handlers, 'calibration.overview', {});
    expect(inForce.label).toBe('handbook@1');
    expect(choices).toMatchObject([
      { label: 'handbook@1', chosenBy: 'A. Analyst', reason: '' },
      { label: 'series@1', chosenBy: 'E. Engineer', reason: 'better by half' },
    ]);
    expect(measuredChain.concludeVisit.mock.calls.at(-1)![2]!.name).toBe('series');
  });

  it('refuses a calibration that is not there', async () => {
    const { handlers } = await makeWorkspace();
    const answer = await callService(handlers, 'calibration.use', { calibrationId: 7, chosenBy: 'E' });
    expect(answer).toMatchObject({ code: 'calibration.unknown', message: expect.stringContaining('7') });
  });
});

describe('calibration.price', () => {
  const request = {
    candidate: { name: 'plain', spec: PLAIN },
    weakBelow: { kind: 'fibreStress' as const, factor: 2 / 3 },
    costs: { missedWeak: 10, needlessReplacement: 1 },
    shareWeak: null,
  };

  it('prices every threshold on chances of relations that did not see the pole', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    const { prices, roc, limits, unpriced } = await call(handlers, 'calibration.price', request);
    // two thirds of 8000 psi and of 6000 psi, ANSI O5.1 designated fibre stress (from memory)
    const limit = (psi: number) => (2 / 3) * psi * 6894.757293168;
    expect(Object.fromEntries(limits.map(({ species, stressPa }) => [species, stressPa]))).toEqual({
      'southern-pine': expect.closeTo(limit(8000), 3),
      'douglas-fir': expect.closeTo(limit(8000), 3),
      'western-redcedar': expect.closeTo(limit(6000), 3),
    });
    const { tests } = await call(handlers, 'calibration.tests', {});
    const isWeak = (species: string, stressPa: number) =>
      stressPa < limits.find((known) => known.species === species)!.stressPa;
    const weak = tests.filter((test) => isWeak(test.species, test.groundlineStressPa)).length;
    expect(prices).toMatchObject({ tests: 60, weak });
    expect(prices.prices.at(-1)).toMatchObject({
      threshold: null,
      missed: { count: weak },
      needless: { count: 0 },
    });
    expect(roc!.points[0]).toMatchObject({ needlessShare: 0, caughtShare: 0 });
    expect(unpriced).toEqual([]);
    expect(prices.statements.join(' ')).toContain(`Only ${weak} of 60 tests are weak`);
  });

  it('names what keeps it from pricing anything', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(
      handlers,
      'pole_id,groundline_circumference_m,mor_mpa,stem_modulus_gpa\n' +
        Array.from({ length: 9 }, (_, i) => `XX-${i},0.8,${40 + i},${8 + ((7 * i) % 5)}`).join('\n'),
    );
    const answer = await callService(handlers, 'calibration.price', request);
    expect(answer).toMatchObject({
      code: 'price.none',
      message: expect.stringContaining('No fibre stress is tabulated'),
    });
  });
});

describe('a calibration whose tests are set aside', () => {
  it('says how many, by whom and why, until they are taken up again', async () => {
    const { handlers } = await makeAssessed(['MC-1']);
    await keepSeries(handlers);
    await publish(handlers);
    const told = async () => (await call(handlers, 'calibration.overview', {})).calibrations[0]!.setAside;
    expect(await told()).toBeNull();
    const choice = { setId: 1, chosenBy: 'E. Engineer' };
    const reason = 'girths were diameters';
    await call(handlers, 'calibration.chooseTests', { ...choice, standing: 'set aside', reason });
    expect(await told()).toMatch(
      /^(\d+) of its \1 tests are set aside now \(E\. Engineer, \d{4}-\d\d-\d\d: girths were diameters\)\.$/,
    );
    await call(handlers, 'calibration.chooseTests', { ...choice, standing: 'in use' });
    expect(await told()).toBeNull();
  });
});

describe('tables of calibration', () => {
  it('are written once', async () => {
    const { store, handlers } = await makeAssessed(['MC-1']);
    await keepSeries(handlers);
    const calibrationId = await publish(handlers);
    await call(handlers, 'calibration.use', { calibrationId, chosenBy: 'E', reason: 'a try' });
    const profile = {
      name: 'line',
      source: 'invented',
      forces: [{ name: 'pull', kind: 'tension' as const, heightM: 6, forceN: 4000 }],
    };
    const { profileId } = await call(handlers, 'profiles.keep', { profile, author: 'E' });
    await call(handlers, 'profiles.choose', { profileId, poleIds: ['MC-1'], chosenBy: 'E' });
    await recompute(handlers, calibrationId);
    await call(handlers, 'calibration.chooseTests', { setId: 1, standing: 'set aside', chosenBy: 'E' });
    for (const [table, column] of [
      ['break_test_sets', 'file_name'],
      ['break_tests', 'pole_code'],
      ['break_test_choices', 'reason'],
      ['calibrations', 'name'],
      ['calibration_choices', 'chosen_by'],
      ['requirement_profiles', 'author'],
      ['profile_choices', 'chosen_by'],
      ['recomputes', 'asked_by'],
    ] as const) {
      await expectFrozen(store, table, column);
    }
  });
});
