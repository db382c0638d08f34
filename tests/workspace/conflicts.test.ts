import { describe, expect, it, vi } from 'vitest';
import {
  type CallName,
  type CallRequest,
  callService,
  createWorkspaceService,
  type Handlers,
} from '../../core/workspace/index.ts';
import { call, keepSeries, makeAssessed, PLAIN, publish } from './calibration/calibrationFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./calibration/measuredChain.ts')).measuredChain);

const SAID = { decision: 'watch', reason: 'soft root' } as const;

/** Two windows on one workspace of one assessed visit. */
async function makeTwoWindows() {
  const { store, handlers: one } = await makeAssessed(['MC-1']);
  return { store, one, two: createWorkspaceService(store) };
}

/** Insists that a call is refused for what somebody else did, and that it stored nothing. @returns what is told */
async function refused<N extends CallName>(handlers: Handlers, name: N, request: CallRequest<N>) {
  const lastEntry = async () => (await call(handlers, 'care.trail', { limit: 1 })).entries[0]!.seq;
  const before = await lastEntry();
  const answer = await callService(handlers, name, request);
  expect(answer).toMatchObject({
    ok: false,
    code: 'store.conflict',
    hint: expect.stringContaining('Nothing was stored'),
  });
  expect(await lastEntry()).toBe(before);
  return (answer as { message: string }).message;
}

describe('what two windows do upon the same state', () => {
  it('a ruling is refused where another stands than was seen, with both in words', async () => {
    const { one, two } = await makeTwoWindows();
    const visit = { visitId: 1, poleId: 'MC-1', assessmentId: 1, seenRulingId: null };
    const { rulings } = await call(one, 'visits.rule', { visits: [visit], analyst: 'A. Nalyst', ...SAID });
    const second = {
      visits: [visit],
      analyst: 'B. Oss',
      decision: 'keep' as const,
      reason: 'sound',
      inSpite: true,
    };
    expect(await refused(two, 'visits.rule', second)).toMatch(
      /^The ruling on pole MC-1, visit of [\d-]+, was changed since you looked\. Then: none\. Now: “watch” \(soft root\), by A\. Nalyst, [\d-]+ [\d:]+ UTC\.$/,
    );
    const { rulingId } = rulings[0]!;
    const seen = { ...second, visits: [{ ...visit, seenRulingId: rulingId }] };
    await call(one, 'rulings.withdraw', { rulingIds: [rulingId], person: 'A. Nalyst' });
    expect(await refused(two, 'visits.rule', seen)).toContain(
      'Then: “watch” by A. Nalyst (soft root). Now: withdrawn, by A. Nalyst',
    );
    await call(two, 'visits.rule', second);
  });

  it('a ruling and a set of decisions are refused where another result stands than was seen', async () => {
    const { one, two } = await makeTwoWindows();
    const decisions = [{ plane: 0, number: 1, frequencyHz: 2.5 }];
    const { assessmentId } = await call(one, 'visit.assess', { visitId: 1, decisions, seenAssessmentId: 1 });
    const told = new RegExp(
      `^The result of pole MC-1, visit of [\\d-]+, was changed since you looked\\. Then: assessment 1, assessed, with 0 decisions of an analyst\\. Now: assessment ${assessmentId}, assessed, with 1 decision of an analyst, by .+, [\\d-]+ [\\d:]+ UTC\\.$`,
    );
    const assess = { visitId: 1, decisions: [], seenAssessmentId: 1 };
    expect(await refused(two, 'visit.assess', assess)).toMatch(told);
    const ruling = { visitId: 1, assessmentId: 1, analyst: 'B. Oss', ...SAID };
    expect(await refused(two, 'visit.rule', ruling)).toMatch(told);
    await call(two, 'visit.assess', { ...assess, seenAssessmentId: assessmentId });
  });

  it('two results of one moment: one is stored, the other is refused', async () => {
    const { one, two } = await makeTwoWindows();
    const request = { visitId: 1, decisions: [], seenAssessmentId: 1 };
    const answers = await Promise.all([one, two].map((each) => callService(each, 'visit.assess', request)));
    expect(answers.map((answer) => (answer.ok ? 'stored' : answer.code)).sort()).toEqual([
      'store.conflict',
      'stored',
    ]);
  });

  it('the choice of a requirement is refused where one of the poles got another', async () => {
    const { one, two } = await makeTwoWindows();
    const profile = {
      name: 'line',
      source: 'invented',
      forces: [{ name: 'pull', kind: 'tension' as const, heightM: 6, forceN: 4000 }],
    };
    const { profileId } = await call(one, 'profiles.keep', { profile, author: 'E. Engineer' });
    const { lastChoice: seenChoice } = await call(two, 'profiles.list', {});
    const choice = { profileId, poleIds: ['MC-1'], seenChoice };
    await call(one, 'profiles.choose', { ...choice, chosenBy: 'E. Engineer' });
    const other = { ...choice, profileId: null, chosenBy: 'B. Oss' };
    expect(await refused(two, 'profiles.choose', other)).toContain(
      'What is asked of pole MC-1 was changed since you looked. Then: the load of its class. Now: line, version 1, by E. Engineer, ',
    );
    const { lastChoice } = await call(two, 'profiles.list', {});
    await call(two, 'profiles.choose', { ...other, seenChoice: lastChoice });
  });

  it('a publication is refused where tests or a version were added, the choice of a calibration where another is in force', async () => {
    const { one, two } = await makeTwoWindows();
    const { setId } = await keepSeries(one);
    const candidate = { name: 'series', spec: PLAIN };
    const wanted = { candidate, name: 'series', author: 'B. Oss', note: 'invented series', despite: 'a try' };
    const early = { ...wanted, seen: { setId: null, choice: 0, number: 0 } };
    expect(await refused(two, 'calibration.publish', early)).toMatch(
      /rests on was changed since you looked\. Then: none\. Now: up to set \d+ \(break-tests\.csv\), by /,
    );
    const calibrationId = await publish(one);
    const seen = { setId, choice: 0, number: 0 };
    expect(await refused(two, 'calibration.publish', { ...wanted, seen })).toContain(
      'The last version of series was changed since you looked. Then: none. Now: series@1, by E. Engineer, ',
    );
    const aside = { setId, standing: 'set aside' as const, chosenBy: 'E. Engineer', seenChoice: 0 };
    await call(one, 'calibration.chooseTests', aside);
    const takenUp = { ...aside, standing: 'in use' as const, chosenBy: 'B. Oss' };
    expect(await refused(two, 'calibration.chooseTests', takenUp)).toContain('by E. Engineer, ');
    const { lastChoice: seenChoice } = await call(two, 'calibration.tests', {});
    await call(two, 'calibration.chooseTests', { ...takenUp, seenChoice });
    expect(await refused(two, 'calibration.publish', { ...wanted, seen: { ...seen, number: 1 } })).toContain(
      'Which break tests are in use was changed since you looked. Then: as they were listed. Now: tests of break-tests.csv in use, by B. Oss, ',
    );
    const { lastChoice: choice } = await call(two, 'calibration.tests', {});
    await call(two, 'calibration.publish', { ...wanted, seen: { ...seen, choice, number: 1 } });
    await call(one, 'calibration.use', {
      calibrationId,
      chosenBy: 'E. Engineer',
      reason: 'a try',
      seenInForce: null,
    });
    const use = { calibrationId: null, chosenBy: 'B. Oss', seenInForce: null };
    expect(await refused(two, 'calibration.use', use)).toContain(
      'The calibration for new results was changed since you looked. Then: handbook@1. Now: series@1, by E. Engineer, ',
    );
  });
});
