import { describe, expect, it, vi } from 'vitest';
import { insertCalibration } from '../../../core/workspace/calibration/calibrations.repository.ts';
import { callService, createWorkspaceService } from '../../../core/workspace/index.ts';
import { appendTrail } from '../../../core/workspace/trail/index.ts';
import { makeStore, makeWorkspace } from '../visitFixture.ts';
import { call, encode, keepSeries, makeAssessed, PLAIN, publish, recompute } from './calibrationFixture.ts';

vi.mock('../../../core/assess.ts', async () => (await import('./measuredChain.ts')).measuredChain);

/** Twelve invented tests that tell next to nothing of strength, of which one is a redcedar; arms were noted. */
const WEAK = [
  'pole_id,species,groundline_circumference_m,load_height_m,break_load_n,arm_loss_m,stem_modulus_gpa',
  ...[44, 52, 39, 55, 47, 41, 58, 45, 50, 43, 57, 49].map((mpa, i) => {
    const moment = (mpa * 1e6 * 0.9 ** 3) / (32 * Math.PI ** 2);
    return `W-${i},${i === 5 ? 'western redcedar' : 'southern pine'},0.9,7,${(moment / 6.9).toFixed(0)},0.1,${8.5 + i / 2}`;
  }),
].join('\n');
const candidate = { name: 'weak', spec: PLAIN };
const wanted = { candidate, name: 'weak', author: 'E. Engineer', note: 'twelve tests' };

async function makeWeak(poleId = 'MC-1') {
  const { store, handlers } = await makeWorkspace(poleId);
  await keepSeries(handlers, WEAK, 'weak.csv');
  return { store, handlers };
}

describe('a relation that predicts no better than the mean of its tests', () => {
  it('is told in words before it is published: tests, species, what it foretells, what speaks against it', async () => {
    const { handlers } = await makeWeak();
    const { lines, weaknesses } = await call(handlers, 'calibration.appraise', { candidate });
    const told = Object.fromEntries(lines.map(({ name, text }) => [name, text]));
    expect(told).toMatchObject({
      Tests: '12 break tests of 12 poles',
      Species: 'southern pine 11, western redcedar 1',
      From: 'modulus of elasticity 8.50 to 14.0 GPa',
      Foretells: expect.stringMatching(
        /^(−\d+|\d) % of the scatter of strengths .* 0 % is no better than the mean of the tests$/,
      ),
      Error: expect.stringMatching(/^1\d % on a pole that it did not see/),
      Arms: expect.stringMatching(/^As far as is on record, no test/),
    });
    expect(weaknesses.map(({ id }) => id)).toEqual(['no-better-than-mean', 'few-of-a-kind']);
  });

  it('is not published without a reason; with one, the trail keeps it', async () => {
    const { handlers } = await makeWeak();
    for (const despite of [undefined, '', '  ']) {
      const refused = await callService(handlers, 'calibration.publish', { ...wanted, despite });
      expect(refused).toMatchObject({
        ok: false,
        code: 'calibration.reason',
        message: expect.stringMatching(
          /^weak@1 has 2 weaknesses, and no reason is given: .*no.* better than the mean .*western redcedar/,
        ),
      });
    }
    expect((await call(handlers, 'calibration.overview', {})).calibrations).toHaveLength(1);
    await call(handlers, 'calibration.publish', { ...wanted, despite: 'to show the class' });
    const { entries } = await call(handlers, 'care.trail', { limit: 1 });
    expect(entries[0]).toMatchObject({
      action: 'publish',
      why: 'twelve tests (in spite of its weaknesses: to show the class)',
    });
    expect(await call(handlers, 'care.prove', {})).toMatchObject({ holds: true });
  });

  it('is not put to use without one either; results under it say so, and the redcedar gets none', async () => {
    const { handlers } = await makeWeak();
    const { calibrationId } = await call(handlers, 'calibration.publish', { ...wanted, despite: 'a try' });
    const use = { calibrationId, chosenBy: 'E. Engineer' };
    expect(await callService(handlers, 'calibration.use', use)).toMatchObject({ code: 'calibration.reason' });
    expect((await call(handlers, 'calibration.overview', {})).inForce.label).toBe('handbook@1');
    await call(handlers, 'calibration.use', { ...use, reason: 'to show the class' });
    const { entries } = await call(handlers, 'care.trail', { limit: 1 });
    expect(entries[0]).toMatchObject({ action: 'use', why: 'to show the class' });
    const { assessment } = await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    const { rows } = await call(handlers, 'register.list', {});
    const said = 'is not shown to predict better than the mean of its tests';
    expect(assessment.strength!.warnings[0]).toContain(said);
    expect(rows[0]!.findings.map(({ text }) => text).join(' ')).toContain(said);
  });
});

describe('a calibration that another workspace published', () => {
  it('tells its weaknesses again, and asks again before anything is recomputed under it', async () => {
    const { handlers } = await makeWeak();
    const { calibrationId } = await call(handlers, 'calibration.publish', { ...wanted, despite: 'a try' });
    const { json } = await call(handlers, 'calibration.export', { calibrationId });
    const { handlers: other } = await makeAssessed(['MC-1']);
    const file = { fileName: 'weak.json', base64: encode(json) };
    const brought = (await call(other, 'calibration.import', file)).calibrationId;
    const { lines, weaknesses } = await call(other, 'calibration.appraise', { calibrationId: brought });
    // no word on arms, which only who published it can know
    expect(lines.map(({ name }) => name)).toEqual(['Tests', 'Species', 'From', 'Foretells', 'Error']);
    expect(weaknesses.map(({ id }) => id)).toEqual(['no-better-than-mean', 'few-of-a-kind']);
    const asked = { calibrationId: brought, askedBy: 'E' };
    expect(await callService(other, 'calibration.recompute', asked)).toMatchObject({
      code: 'calibration.reason',
      hint: expect.stringContaining('use it for new results first'),
    });
    await call(other, 'calibration.use', { calibrationId: brought, chosenBy: 'E', reason: 'a try' });
    expect(await recompute(other, brought)).toMatchObject({ state: 'completed' });
  });

  it('whose weaknesses were written over has them again, in the trail, the question and every result', async () => {
    const { handlers } = await makeWeak();
    const { calibrationId } = await call(handlers, 'calibration.publish', { ...wanted, despite: 'a try' });
    const { json } = await call(handlers, 'calibration.export', { calibrationId });
    const soothed = JSON.parse(json);
    for (const weakness of soothed.weaknesses) weakness.text = 'All is well.';
    const { handlers: other } = await makeAssessed(['MC-1']);
    const file = { fileName: 'weak.json', base64: encode(JSON.stringify(soothed)) };
    const brought = (await call(other, 'calibration.import', file)).calibrationId;
    expect((await call(other, 'calibration.export', { calibrationId: brought })).json).toBe(json);
    await call(other, 'calibration.use', { calibrationId: brought, chosenBy: 'E', reason: 'a try' });
    const { assessment } = await call(other, 'visit.assess', { visitId: 1, decisions: [] });
    expect(assessment.strength!.warnings[0]).toContain('not shown to predict better');
    expect(JSON.stringify(assessment)).not.toContain('All is well');
  });

  it('by an earlier program opens, is judged anew by its tests, and is asked of', async () => {
    const { handlers, store } = await makeWeak();
    await keepSeries(handlers);
    const { calibrationId } = await call(handlers, 'calibration.publish', { ...wanted, despite: 'a try' });
    const { json } = await call(handlers, 'calibration.export', { calibrationId });
    const { weaknesses: _, ...rest } = JSON.parse(json);
    const other = createWorkspaceService(await makeStore());
    const file = { fileName: 'early.json', base64: encode(JSON.stringify({ ...rest, version: 1 })) };
    const early = (await call(other, 'calibration.import', file)).calibrationId;
    const told = await call(other, 'calibration.appraise', { calibrationId: early });
    expect(told.weaknesses[0]).toMatchObject({ id: 'not-judged' });
    expect(told.lines.map(({ name }) => name)).not.toContain('Arms');
    expect(
      await callService(other, 'calibration.use', { calibrationId: early, chosenBy: 'E' }),
    ).toMatchObject({
      code: 'calibration.reason',
    });
    // one that this program's own workspace published before it asked
    const { calibrationId: own } = await insertCalibration(
      store.db,
      { ...rest, version: 1, number: 9 },
      'published',
    );
    expect(
      await callService(handlers, 'calibration.recompute', { calibrationId: own, askedBy: 'E' }),
    ).toMatchObject({
      code: 'calibration.reason',
    });
    // a reason from before the program asked: as the earlier one kept it, in the choice and its entry
    await store.db.transaction().execute(async (transaction) => {
      const choice = {
        calibration_id: own,
        chosen_at: '2026-01-01T00:00:00Z',
        chosen_by: 'E',
        reason: 'spring',
      };
      await transaction.insertInto('calibration_choices').values(choice).execute();
      const subject = 'calibration weak@9 for new assessments';
      await appendTrail(transaction, { action: 'use', subject, after: 'weak@9', why: 'spring' });
    });
    const again = { calibrationId: own, askedBy: 'E' };
    expect(await callService(handlers, 'calibration.recompute', again)).toMatchObject({
      code: 'calibration.reason',
    });
    await call(handlers, 'calibration.use', { calibrationId: own, chosenBy: 'E', reason: 'all the same' });
    expect(await recompute(handlers, own)).toMatchObject({ state: 'completed' });
  });
});

describe('calibration.appraise', () => {
  it('says of the handbook what it is, and asks nothing', async () => {
    const { handlers } = await makeWeak();
    expect(await call(handlers, 'calibration.appraise', { calibrationId: null })).toEqual({
      lines: [{ name: 'Tests', text: expect.stringContaining('No break test stands behind it') }],
      weaknesses: [],
    });
    await call(handlers, 'calibration.use', { calibrationId: null, chosenBy: 'E' });
  });

  it('refuses what it cannot fit, and one that is not there', async () => {
    const { handlers } = await makeWorkspace();
    expect(await callService(handlers, 'calibration.appraise', { candidate })).toMatchObject({
      code: 'relation.tests',
    });
    expect(await callService(handlers, 'calibration.appraise', { calibrationId: 7 })).toMatchObject({
      code: 'calibration.unknown',
    });
  });

  it('counts tests with the whole arm', async () => {
    const { handlers } = await makeWorkspace();
    await keepSeries(handlers);
    const { lines, weaknesses } = await call(handlers, 'calibration.appraise', {
      candidate,
      leftOut: [1, 2],
    });
    expect(lines.at(-1)).toMatchObject({
      name: 'Arms',
      text: expect.stringMatching(/^58 of 58 tests with the whole arm/),
    });
    expect(weaknesses.map(({ id }) => id)).toEqual(['arms-not-shortened']);
    expect(await publish(handlers)).toBe(1);
  });
});
