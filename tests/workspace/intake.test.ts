import { describe, expect, test } from 'vitest';
import type { Answers, Entry } from '../../core/intake/index.ts';
import { parseVisitFile } from '../../core/recording/index.ts';
import {
  type CallName,
  type CallRequest,
  type CallResponse,
  callService,
  contract,
  createWorkspaceService,
  type Store,
} from '../../core/workspace/index.ts';
import { makeCsv, makeStore } from './visitFixture.ts';

const DRAFT = 'first';

/** Calls, insists on success, and holds the answer against the contract. */
async function call<N extends CallName>(
  store: Store,
  name: N,
  request: CallRequest<N>,
): Promise<CallResponse<N>> {
  const answer = await callService(createWorkspaceService(store), name, request);
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return contract[name].response.parse(JSON.parse(JSON.stringify(answer.value))) as CallResponse<N>;
}

const typed = (text: string, unit: Entry['unit'] = null): Entry => ({ text, unit, from: 'typed' });
const base64 = (text: string) => Buffer.from(text).toString('base64');

async function fillIn(store: Store, names: readonly string[] = ['hammer.csv', 'hand.csv']): Promise<Answers> {
  const { answers } = await call(store, 'intake.begin', { units: 'us' });
  answers.pole.id = typed('TV-7');
  answers.pole.species = typed('douglas-fir');
  answers.pole.length = typed('40', 'ft');
  answers.circumferences[0]!.circumference = typed('36', 'in');
  answers.measured.date = typed('2026-05-01');
  for (const [i, name] of names.entries()) {
    const file = { name, base64: base64(makeCsv(i)) };
    answers.recordings.push(
      (await call(store, 'intake.attach', { draft: DRAFT, units: 'us', file })).answers,
    );
  }
  return answers;
}

describe('a visit written down by hand', () => {
  test('is checked, written as a file, and brought in with its recordings', async () => {
    const store = await makeStore();
    const answers = await fillIn(store);
    const checked = await call(store, 'intake.check', { draft: DRAFT, units: 'us', answers });
    expect(checked.ready).toBe(true);
    expect(checked.echoes).toContainEqual({ field: 'pole.length', words: '12.192 m' });
    const { fileName, text } = await call(store, 'intake.write', { draft: DRAFT, units: 'us', answers });
    expect(fileName).toMatch(/^TV-7-\d{4}-\d\d-\d\d\.visit\.json$/);
    expect(parseVisitFile(text, fileName).pole.lengthM).toBe(12.192);
    const { outcome, habits } = await call(store, 'intake.finish', { draft: DRAFT, units: 'us', answers });
    expect(outcome).toMatchObject({ status: 'imported', poleId: 'TV-7', error: null });
    expect(habits.sensorHeight?.text).toBe('6.56');
    const { recordings } = await call(store, 'visit.open', { visitId: outcome.visitId! });
    expect(recordings.map(({ file, exciter }) => [file, exciter])).toEqual([
      ['hammer.csv', 'hammer'],
      ['hand.csv', 'hand'],
    ]);
    expect((await call(store, 'intake.attached', { draft: DRAFT })).recordings).toEqual([]);
  });

  test('keeps what is attached until it is given up, whoever asks, one draft apart from another', async () => {
    const store = await makeStore();
    await fillIn(store);
    const attached = await call(store, 'intake.attached', { draft: DRAFT });
    expect(
      attached.recordings.map(({ file, channels, needsFullScale }) => [file, channels, needsFullScale]),
    ).toEqual([
      ['hammer.csv', 2, false],
      ['hand.csv', 2, false],
    ]);
    expect(attached.recordings[0]!.peaks[0]).toBeGreaterThan(1);
    expect((await call(store, 'intake.attached', { draft: 'second' })).recordings).toEqual([]);
    await call(store, 'intake.detach', { draft: DRAFT, file: 'hand.csv' });
    expect((await call(store, 'intake.attached', { draft: DRAFT })).recordings.length).toBe(1);
    await call(store, 'intake.giveUp', { draft: DRAFT });
    expect((await call(store, 'intake.attached', { draft: DRAFT })).recordings).toEqual([]);
  });

  test('a recording of the same name takes the place of the one before', async () => {
    const store = await makeStore();
    await fillIn(store, ['a.csv']);
    const before = (await call(store, 'intake.attached', { draft: DRAFT })).recordings[0]!.sha256;
    const file = { name: 'a.csv', base64: base64(makeCsv(99)) };
    await call(store, 'intake.attach', { draft: DRAFT, units: 'us', file });
    const after = (await call(store, 'intake.attached', { draft: DRAFT })).recordings;
    expect(after.length).toBe(1);
    expect(after[0]!.sha256).not.toBe(before);
  });

  test('what is no recording is refused in words, and not kept', async () => {
    const store = await makeStore();
    const file = { name: 'notes.wav', base64: base64('RIFF????WAVE') };
    await expect(call(store, 'intake.attach', { draft: DRAFT, units: 'metric', file })).rejects.toThrow(
      'notes.wav',
    );
    expect((await call(store, 'intake.attached', { draft: DRAFT })).recordings).toEqual([]);
  });

  test('an unready visit is neither written nor brought in, and loses nothing', async () => {
    const store = await makeStore();
    const answers = await fillIn(store);
    answers.pole.species = typed('');
    expect((await call(store, 'intake.check', { draft: DRAFT, units: 'us', answers })).ready).toBe(false);
    await expect(call(store, 'intake.write', { draft: DRAFT, units: 'us', answers })).rejects.toThrow(
      'pole.species. The species is needed.',
    );
    await expect(call(store, 'intake.finish', { draft: DRAFT, units: 'us', answers })).rejects.toThrow(
      'The species is needed.',
    );
    expect((await call(store, 'intake.attached', { draft: DRAFT })).recordings.length).toBe(2);
    expect((await call(store, 'register.list', {})).rows).toEqual([]);
  });

  test('the same visit brought in twice is there once', async () => {
    const store = await makeStore();
    const answers = await fillIn(store);
    await call(store, 'intake.finish', { draft: DRAFT, units: 'us', answers });
    await fillIn(store);
    const { outcome } = await call(store, 'intake.finish', { draft: DRAFT, units: 'us', answers });
    expect(outcome.status).toBe('already there');
  });
});
