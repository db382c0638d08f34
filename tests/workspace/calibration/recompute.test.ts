import { describe, expect, it, vi } from 'vitest';
import { handbookCalibration } from '../../../core/strength/index.ts';
import { getCalibration, HANDBOOK } from '../../../core/workspace/calibration/calibrations.repository.ts';
import { recomputeStrength } from '../../../core/workspace/calibration/recomputeStrength.ts';
import {
  callService,
  createWorkspaceService,
  importVisit,
  type Store,
} from '../../../core/workspace/index.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';
import { makeCsv, makeSource, makeStore, makeVisitFile } from '../visitFixture.ts';
import {
  call,
  keepSeries,
  makeAssessed,
  PLAIN,
  publish,
  recompute,
  untilDone,
} from './calibrationFixture.ts';
import { WITHHELD_POLE } from './measuredChain.ts';

vi.mock('../../../core/assess.ts', async () => (await import('./measuredChain.ts')).measuredChain);

const CLASS_BETWEEN = '3';
const POLES = ['MC-1', 'MC-3', 'MC-6', WITHHELD_POLE];

async function makePublished(poles = POLES) {
  const { store, handlers } = await makeAssessed(poles);
  await keepSeries(handlers);
  return { store, handlers, calibrationId: await publish(handlers) };
}

const readResults = (store: Store) =>
  store.db.selectFrom('assessments').selectAll().orderBy('assessment_id').execute();

describe('calibration.recompute', () => {
  it('refuses the second of two that ask at once, and completes the first', async () => {
    const { store, handlers, calibrationId } = await makePublished();
    const ask = () =>
      callService(handlers, 'calibration.recompute', { calibrationId, askedBy: 'E. Engineer' });
    const answers = await Promise.all([ask(), ask()]);
    expect(answers.map(({ ok }) => ok)).toEqual([true, false]);
    expect(answers[1]).toMatchObject({ code: 'recompute.running' });
    expect(await untilDone(handlers)).toMatchObject({ state: 'completed', done: 4 });
    expect((await readResults(store)).filter((row) => row.recompute_id !== null)).toHaveLength(3);
    const [last] = await store.db.selectFrom('trail').select('seq').orderBy('seq', 'desc').execute();
    expect((await call(handlers, 'calibration.recomputeProgress', {})).wrote).toEqual([last!.seq]);
  });

  it('gives every visit a new result beside the one it has: strength by the calibration, stem and root as they were', async () => {
    const { store, handlers, calibrationId } = await makePublished();
    const before = await readResults(store);
    const opened = await call(handlers, 'visit.open', { visitId: 2 });
    expect(await recompute(handlers, calibrationId)).toMatchObject({
      state: 'completed',
      calibration: 'series@1',
      done: 4,
      total: 4,
      recomputeId: 1,
    });
    const after = await readResults(store);
    expect(after.slice(0, before.length)).toEqual(before);
    expect(after.slice(before.length).map((row) => [row.visit_id, row.basis_id, row.recompute_id])).toEqual([
      [1, 1, 1],
      [2, 2, 1],
      [3, 3, 1],
    ]);
    const again = await call(handlers, 'visit.open', { visitId: 2 });
    expect(again.assessmentId).toBe(6);
    expect(again.assessment!.strength!.calibration).toBe('series@1');
    const { strength: _, requirement: __, ...rest } = again.assessment!;
    expect(opened.assessment).toMatchObject(rest);
    expect(again.picture).toEqual({ ...opened.picture, requiredModulusPa: again.picture!.requiredModulusPa });
    expect(again.picture!.requiredModulusPa).not.toBe(opened.picture!.requiredModulusPa);
    const { calibrations } = await call(handlers, 'calibration.overview', {});
    expect(calibrations.map(({ label, results, kept }) => [label, results, kept])).toEqual([
      ['series@1', 3, 3],
      ['handbook@1', 0, 3],
    ]);
  });

  it('gives the very digits that assessing under the calibration gives, and going back those of before', async () => {
    const { handlers, calibrationId } = await makePublished();
    const first = await call(handlers, 'visit.open', { visitId: 3 });
    await recompute(handlers, calibrationId);
    const recomputed = await call(handlers, 'visit.open', { visitId: 3 });
    await recompute(handlers, null);
    const back = await call(handlers, 'visit.open', { visitId: 3 });
    expect(back.assessment).toEqual(first.assessment);
    expect(back.picture).toEqual(first.picture);
    await call(handlers, 'calibration.use', { calibrationId, chosenBy: 'E. Engineer', reason: 'a try' });
    const { assessment } = await call(handlers, 'visit.assess', { visitId: 3, decisions: [] });
    expect(assessment.strength).toEqual(recomputed.assessment!.strength);
    expect(assessment.requirement).toEqual(recomputed.assessment!.requirement);
  });

  it('stores nothing where nothing would change', async () => {
    const { store, handlers } = await makeAssessed(POLES);
    await recompute(handlers, null);
    expect(await readResults(store)).toHaveLength(POLES.length);
    const { left, recomputed } = await call(handlers, 'calibration.differences', { recomputeId: 1 });
    expect([recomputed, left.unchanged, left.withoutStrength]).toEqual([0, 3, 1]);
  });

  it('withholds a strength that the calibration cannot give, and gives it again under one that can', async () => {
    const { handlers } = await makeAssessed(['MC-3']);
    const withoutPine = makeBreakTests()
      .split('\n')
      .filter((line) => !line.includes('southern-pine'));
    await keepSeries(handlers, withoutPine.join('\n'));
    await recompute(handlers, await publish(handlers, 'other-species', { ...PLAIN, species: 'fixed' }));
    const { assessment } = await call(handlers, 'visit.open', { visitId: 1 });
    expect(assessment).toMatchObject({ verdict: 'withheld', withheldBy: 'calibration', strength: null });
    expect(assessment!.withheldBecause).toContain('no tested pole is of species southern-pine');
    const lost = await call(handlers, 'calibration.differences', { recomputeId: 1 });
    expect(lost).toMatchObject({
      strengths: { lost: 1, polesLost: 1, gained: 0, polesGained: 0 },
      rows: [{ capacityRatio: null, crossed: [], strength: 'lost', after: { capacityNm: null } }],
    });
    expect(lost.rows[0]!.reasons).toEqual([assessment!.withheldBecause]);
    await recompute(handlers, null);
    expect(await call(handlers, 'calibration.differences', { recomputeId: 2 })).toMatchObject({
      strengths: { lost: 0, polesLost: 0, lostBelow: 0, gained: 1, polesGained: 1 },
      rows: [{ strength: 'gained' }],
    });
    expect((await call(handlers, 'visit.open', { visitId: 1 })).assessment!.strength!.calibration).toBe(
      'handbook@1',
    );
  });

  it('compares poles with the loads of their profile from then on', async () => {
    const { handlers, calibrationId } = await makePublished();
    const profile = {
      name: 'storm line',
      source: 'invented',
      forces: [{ name: 'pull', kind: 'tension' as const, heightM: 7, forceN: 20_000 }],
    };
    const { profileId, number } = await call(handlers, 'profiles.keep', { profile, author: 'E. Engineer' });
    expect(number).toBe(1);
    await call(handlers, 'profiles.choose', { profileId, poleIds: ['MC-1'], chosenBy: 'E. Engineer' });
    await recompute(handlers, calibrationId);
    const momentOf = async (visitId: number) =>
      (await call(handlers, 'visit.open', { visitId })).assessment!.requirement!.groundlineMomentNm;
    expect(await momentOf(1)).toBeCloseTo(7 * 20_000, 6);
    expect(await momentOf(2)).not.toBeCloseTo(7 * 20_000, 6);
    const { rows } = await call(handlers, 'calibration.differences', { recomputeId: 1, only: 'all' });
    const changed = rows.find(({ poleId }) => poleId === 'MC-1')!;
    expect(changed.reasons.join(' ')).toContain('The threshold is 140.0 kN·m instead of');
    expect((await call(handlers, 'profiles.list', {})).profiles).toMatchObject([
      { name: 'storm line', number: 1, poles: 1 },
    ]);
    const tall = { ...profile, forces: [{ ...profile.forces[0]!, heightM: 12 }] };
    const { profileId: tallId } = await call(handlers, 'profiles.keep', {
      profile: tall,
      author: 'E. Engineer',
    });
    const choice = { profileId: tallId, poleIds: ['MC-1', 'MC-3'], chosenBy: 'E. Engineer' };
    await expect(call(handlers, 'profiles.choose', choice)).rejects.toThrow(
      / These loads do not go with MC-1, MC-3\. MC-1: Requirement "storm line": pull at 12 m is above the tip, which stands \d+\.\d\d m over ground line\.$/,
    );
    await call(handlers, 'profiles.choose', { profileId: null, poleIds: ['MC-1'], chosenBy: 'E. Engineer' });
    const { assessment } = await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    expect(assessment.requirement!.groundlineMomentNm).not.toBeCloseTo(7 * 20_000, 6);
  });

  it('tells the trail who asked for it, and every row is proved', async () => {
    const { handlers, calibrationId } = await makePublished();
    await recompute(handlers, calibrationId);
    const { entries } = await call(handlers, 'care.trail', { limit: 10 });
    expect(entries[0]).toMatchObject({
      action: 'recompute',
      who: 'E. Engineer',
      subject: '3 results under series@1',
    });
    expect(await call(handlers, 'care.prove', {})).toMatchObject({ holds: true });
  });

  it('is refused while another is under way', async () => {
    const { handlers, calibrationId } = await makePublished();
    await call(handlers, 'calibration.recompute', { calibrationId, askedBy: 'E' });
    expect(
      await callService(handlers, 'calibration.recompute', { calibrationId, askedBy: 'E' }),
    ).toMatchObject({
      code: 'recompute.running',
    });
    await untilDone(handlers);
  });
});

describe('a recompute that is cancelled', () => {
  it('leaves the workspace as it was, whenever it is', async () => {
    const { store } = await makePublished();
    const before = await readResults(store);
    for (let stopAt = 0; stopAt < 2; stopAt++) {
      const control = new AbortController();
      let looks = 0;
      const outcome = await recomputeStrength(
        store,
        { ...HANDBOOK, label: 'other@1', calibration: { ...handbookCalibration, name: 'other' } },
        {
          askedBy: 'E',
          signal: control.signal,
          onProgress: () => {
            if (looks++ === stopAt) control.abort();
          },
        },
      );
      expect(outcome).toEqual({ state: 'cancelled' });
      expect(await readResults(store)).toEqual(before);
      expect(await store.db.selectFrom('recomputes').selectAll().execute()).toEqual([]);
    }
  });

  it('says so, and another may follow', async () => {
    const { handlers, calibrationId } = await makePublished();
    await call(handlers, 'calibration.recompute', { calibrationId, askedBy: 'E' });
    await call(handlers, 'calibration.cancelRecompute', {});
    expect(await untilDone(handlers)).toMatchObject({ state: 'cancelled', recomputeId: null });
    expect(await recompute(handlers, calibrationId)).toMatchObject({ state: 'completed' });
  });
});

describe('a visit that is assessed while a recompute runs', () => {
  it('keeps its newer result, and is told of', async () => {
    const { store, handlers, calibrationId } = await makePublished();
    let isDone = false;
    const outcome = await recomputeStrength(store, await getCalibration(store.db, calibrationId), {
      askedBy: 'E',
      onProgress: async (done, total) => {
        if (done < total || isDone) return;
        isDone = true;
        await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
      },
    });
    expect(outcome).toMatchObject({ state: 'completed', recomputed: 2, left: { assessedMeanwhile: 1 } });
    const { assessment } = await call(handlers, 'visit.open', { visitId: 1 });
    expect(assessment!.strength!.calibration).toBe('handbook@1');
  });
});

describe('a requirement that is chosen while a recompute runs', () => {
  it('has it store nothing, since results would be of the former one', async () => {
    const { store, handlers, calibrationId } = await makePublished();
    const before = await readResults(store);
    const { code } = await store.db.selectFrom('poles').select('code').executeTakeFirstOrThrow();
    let isDone = false;
    const outcome = recomputeStrength(store, await getCalibration(store.db, calibrationId), {
      askedBy: 'E',
      onProgress: async (done, total) => {
        if (done < total || isDone) return;
        isDone = true;
        await call(handlers, 'profiles.choose', { profileId: null, poleIds: [code], chosenBy: 'E' });
      },
    });
    await expect(outcome).rejects.toThrow('was changed while their results were recomputed');
    expect(await readResults(store)).toEqual(before);
  });
});

describe('calibration.differences', () => {
  it('names the visits that change side, by how much and why, the largest first', async () => {
    const { handlers, calibrationId } = await makePublished();
    await recompute(handlers, calibrationId);
    const all = await call(handlers, 'calibration.differences', { recomputeId: 1, only: 'all' });
    expect(all).toMatchObject({
      calibration: 'series@1',
      recomputed: 3,
      left: { withoutStrength: 1 },
      matching: 3,
    });
    for (const { before, after, capacityRatio, crossed, reasons } of all.rows) {
      expect([before.calibration, after.calibration]).toEqual(['handbook@1', 'series@1']);
      expect(capacityRatio).toBeCloseTo(after.capacityNm!.value / before.capacityNm!.value, 12);
      const isBelow = (side: typeof before, limit: number) => side.capacityNm!.value < limit;
      expect(crossed.includes('requirement')).toBe(
        isBelow(before, before.requirementNm!) !== isBelow(after, after.requirementNm!),
      );
      expect(reasons[0]).toMatch(
        /^Bending strength by series@1 is [\d.]+ MPa, \d+ % (higher|lower) than the [\d.]+ MPa by handbook@1\.$/,
      );
      expect(reasons.join(' ')).toContain('modulus of elasticity');
    }
    const sizes = all.rows.map((row) => Math.abs(Math.log(row.capacityRatio!)) + 100 * row.crossed.length);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    const crossed = await call(handlers, 'calibration.differences', { recomputeId: 1 });
    expect(crossed.rows).toEqual(all.rows.filter((row) => row.crossed.length > 0));
    const { nowBelow, nowAbove } = all.crossings.requirement;
    expect(nowBelow + nowAbove).toBe(all.rows.filter((row) => row.crossed.includes('requirement')).length);
    const second = await call(handlers, 'calibration.differences', {
      recomputeId: 1,
      only: 'all',
      offset: 1,
      limit: 1,
    });
    expect(second.rows).toEqual([all.rows[1]]);
  });

  it('count a pole with two visits once, and its visits twice', async () => {
    const store = await makeStore();
    // of a class whose load lies between the capacities of MC-1 under the two calibrations
    const pole = { ...makeVisitFile('MC-1').pole, classCode: CLASS_BETWEEN };
    for (const date of ['2020-05-03', '2026-05-03']) {
      const visit = { ...makeVisitFile('MC-1', { date }), pole };
      await importVisit(store, makeSource(visit, { 'MC-1.csv': makeCsv() }, `${date}.visit.json`));
    }
    await importVisit(store, makeSource(makeVisitFile('MC-3'), { 'MC-3.csv': makeCsv() }, 'b.visit.json'));
    const handlers = createWorkspaceService(store);
    for (const visitId of [1, 2, 3]) await call(handlers, 'visit.assess', { visitId, decisions: [] });
    await keepSeries(handlers);
    await recompute(handlers, await publish(handlers));
    const found = await call(handlers, 'calibration.differences', { recomputeId: 1 });
    expect(found).toMatchObject({
      recomputed: 3,
      poles: 2,
      crossings: { requirement: { nowBelow: 2, polesNowBelow: 1, nowAbove: 0, polesNowAbove: 0 } },
    });
    expect(found.rows.map(({ poleId }) => poleId)).toEqual(['MC-1', 'MC-1']);
  });

  it('are refused for a recompute that is not there', async () => {
    const { handlers } = await makeAssessed(['MC-1']);
    expect(await callService(handlers, 'calibration.differences', { recomputeId: 9 })).toMatchObject({
      code: 'recompute.unknown',
    });
  });
});

describe('calibration.secondVisits', () => {
  it('ranks the last visit to each pole by what another would be worth', async () => {
    const { handlers } = await makeAssessed(POLES);
    const costs = { missedWeak: 10, needlessReplacement: 1 };
    const { calibration, visits, known } = await call(handlers, 'calibration.secondVisits', { costs });
    expect([calibration, known]).toEqual(['handbook@1', 3]);
    expect(visits.map(({ value }) => value)).toEqual(visits.map(({ value }) => value).sort((a, b) => b - a));
    for (const visit of visits) {
      expect(visit.value).toBeLessThanOrEqual(visit.perfectValue);
      expect(visit.costNow - visit.costAfter).toBeCloseTo(visit.value, 12);
    }
  });
});
