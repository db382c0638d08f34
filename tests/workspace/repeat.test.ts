import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished } from 'vitest';
import { handbookCalibration } from '../../core/strength/index.ts';
import { HANDBOOK } from '../../core/workspace/calibration/calibrations.repository.ts';
import { recomputeStrength } from '../../core/workspace/calibration/recomputeStrength.ts';
import { compareResults } from '../../core/workspace/care/compareResults.ts';
import { createWorkspaceService, openStore } from '../../core/workspace/index.ts';
import { makeFolder } from './visitFixture.ts';

const FIRST_FORM = fileURLToPath(new URL('./fixtures/v1.stemroot', import.meta.url));

/** A workspace that an earlier program filled: visit 1 with its result of then. */
function openKept() {
  const path = join(makeFolder(), 'kept.stemroot');
  copyFileSync(FIRST_FORM, path);
  const store = openStore(path);
  onTestFinished(() => store.close());
  return { store, handlers: createWorkspaceService(store) };
}

describe('running an assessment again', () => {
  it('gives the same bytes: plain, with decisions, and brought under the handbook anew', async () => {
    const { store, handlers } = openKept();
    const { assessmentId, assessment } = await handlers['visit.assess']({ visitId: 1, decisions: [] });
    const { plane, number, frequencyHz } = assessment.modes[0]!;
    const decisions = [{ plane, number, frequencyHz: frequencyHz.value }];
    const decided = await handlers['visit.assess']({ visitId: 1, decisions });
    // the same relation under another name: another calibration in force, which the workspace need not keep
    const other = { ...HANDBOOK, calibration: { ...handbookCalibration, name: 'other' }, label: 'other@1' };
    await recomputeStrength(store, other, { askedBy: 'A. Engineer' });
    const back = await recomputeStrength(store, HANDBOOK, { askedBy: 'A. Engineer' });
    expect(back).toMatchObject({ state: 'completed', recomputed: 1 });
    const { repeats } = await handlers['care.repeat']({ visitId: 1 });
    const outcome = new Map(repeats.map((repeat) => [repeat.assessmentId, repeat]));
    for (const id of [assessmentId, decided.assessmentId, repeats.at(-1)!.assessmentId]) {
      expect(outcome.get(id)).toMatchObject({ same: true, samePicture: true, differences: 0, greatest: [] });
    }
  });

  it('says which program stored a result that comes out differently now, and by how much', async () => {
    const { handlers } = openKept();
    const { repeats } = await handlers['care.repeat']({ visitId: 1 });
    expect(repeats).toHaveLength(1);
    const [{ same, differences, greatest, program }] = repeats as [(typeof repeats)[number]];
    expect([same, program]).toEqual([false, 'stemroot 0.1.0']);
    expect(differences).toBeGreaterThan(0);
    const relative = greatest.map((difference) => difference.relative ?? 0);
    expect(relative).toEqual(relative.toSorted((a, b) => b - a));
  });

  it('names a visit that is not there', async () => {
    const { handlers } = openKept();
    await expect(handlers['care.repeat']({ visitId: 99 })).rejects.toThrow(/no visit 99/);
  });
});

describe('two results', () => {
  it('have no differences where they are the same', () => {
    const result = { a: 1, b: [1, null, { c: 'x' }], d: -0 };
    expect(compareResults(result, structuredClone(result))).toEqual([]);
  });

  it('differ by path, the greatest relative difference last', () => {
    const stored = { a: 100, b: [1, 2], c: 'x', zero: 0, gone: true };
    const now = { a: 101, b: [1, 4], c: 'y', zero: 1, added: null };
    expect(compareResults(stored, now)).toEqual([
      { path: 'c', stored: 'x', now: 'y', relative: null },
      { path: 'zero', stored: 0, now: 1, relative: null },
      { path: 'gone', stored: true, now: undefined, relative: null },
      { path: 'added', stored: undefined, now: null, relative: null },
      { path: 'a', stored: 100, now: 101, relative: 0.01 },
      { path: 'b.1', stored: 2, now: 4, relative: 1 },
    ]);
  });
});
