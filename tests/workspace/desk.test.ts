import { join } from 'node:path';
import { Piscina } from 'piscina';
import { afterEach, beforeEach, describe, expect, it, onTestFinished, vi } from 'vitest';
import { type Desk, openDesk } from '../../core/workspace/index.ts';
import { makeTemporaryFolder } from './makeTemporaryFolder.ts';
import { makeWorkspace } from './visitFixture.ts';

let desk: Desk | undefined;
beforeEach(() => {
  // a thread that breaks down is told of on standard error
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterEach(async () => {
  await desk?.close();
  desk = undefined;
});

async function makeDesk() {
  const { store, visitId } = await makeWorkspace();
  const { path } = store;
  await store.close();
  desk = await openDesk(path);
  return { desk, visitId };
}

describe('what threads load', () => {
  // a thread that is ended while Node wraps a default export aborts the process: too rare a moment to wait for in a test
  it.each(['../../core/workspace/deskWorker.ts', '../../host/fileWorker.ts'])(
    'has no default export: %s',
    async (file) => {
      expect(Object.keys(await import(file))).not.toContain('default');
    },
  );
});

describe('openDesk', () => {
  it('answers short calls and long ones, and sees in one what the other stored', async () => {
    const { desk, visitId } = await makeDesk();
    const assessed = await desk.answer('visit.assess', { visitId, decisions: [] });
    expect(assessed).toMatchObject({ ok: true, value: { assessment: { verdict: expect.any(String) } } });
    const listed = await desk.answer('register.list', {});
    expect(listed).toMatchObject({ ok: true, value: { rows: [{ visitId }] } });
    expect((listed as { value: { rows: { verdict: string }[] } }).value.rows[0]!.verdict).not.toBe(
      'not assessed',
    );
  });

  it('answers short calls while a long one is worked on', async () => {
    const { desk, visitId } = await makeDesk();
    const order: string[] = [];
    const long = desk.answer('visit.assess', { visitId, decisions: [] }).then(() => order.push('long'));
    const short = desk.answer('workspace.describe', {}).then(() => order.push('short'));
    await Promise.all([long, short]);
    expect(order).toEqual(['short', 'long']);
  });

  it('refuses in the form of the contract, from the thread too', async () => {
    const { desk } = await makeDesk();
    expect(await desk.answer('visit.recordings', { visitId: 77 })).toMatchObject({
      ok: false,
      code: 'visit.unknown',
    });
    expect(await desk.answer('visit.recordings', null)).toMatchObject({ ok: false, code: 'call.request' });
    expect(await desk.answer('no.such', {})).toMatchObject({ ok: false, code: 'call.unknown' });
  });

  it('says that work was broken off where its thread cannot go on, and works on', async () => {
    const { desk, visitId } = await makeDesk();
    const unsendable = { visitId, decisions: () => [] };
    expect(await desk.answer('visit.tryPicks', unsendable)).toMatchObject({
      ok: false,
      code: 'work.brokenOff',
    });
    expect(await desk.answer('visit.recordings', { visitId })).toMatchObject({ ok: true });
  });

  it('refuses in words what a thread was at that broke down, replaces it, and works on', async () => {
    const { desk, visitId } = await makeDesk();
    const run = vi.spyOn(Piscina.prototype, 'run');
    onTestFinished(() => run.mockRestore());
    expect(await desk.answer('visit.recordings', { visitId })).toMatchObject({ ok: true });
    const bench = run.mock.contexts[0] as Piscina;
    const assessed = desk.answer('visit.assess', { visitId, decisions: [] });
    await bench.threads[0]!.terminate();
    expect(await assessed).toMatchObject({ ok: false, code: 'work.brokenOff' });
    expect(await desk.answer('visit.recordings', { visitId })).toMatchObject({ ok: true });
    // one that breaks down with nothing to do
    bench.threads[0]!.emit('error', new Error('out of memory'));
    expect(await desk.answer('visit.assess', { visitId, decisions: [] })).toMatchObject({ ok: true });
  });

  it('can be closed while its threads are still loading', async () => {
    const { desk: opened, visitId } = await makeDesk();
    await opened.close();
    desk = await openDesk(opened.store.path);
    expect(await desk.answer('visit.recordings', { visitId })).toMatchObject({ ok: true });
  });
});

describe('warmUp', () => {
  it('works through what a window asks of a visit, and stores nothing', async () => {
    const { desk, visitId } = await makeDesk();
    const { last } = await desk.ask('care.changes', {});
    const run = vi.spyOn(Piscina.prototype, 'run');
    onTestFinished(() => run.mockRestore());
    await desk.warmUp();
    const tasks = run.mock.calls.map(([task]) => task as { name: string; request: { visitId: number } });
    expect(tasks.map(({ name }) => name)).toEqual([
      'visit.recordings',
      'recording.waveform',
      'recording.spectrogram',
      'recording.spectrum',
      'visit.tryPicks',
    ]);
    expect(tasks.every(({ request }) => request.visitId === visitId)).toBe(true);
    for (const { value } of run.mock.results) expect(await value).toMatchObject({ ok: true });
    expect(await desk.ask('care.changes', {})).toMatchObject({ last });
  });

  it('has nothing to do in an empty workspace', async () => {
    const folder = makeTemporaryFolder();
    onTestFinished(folder.remove);
    const empty = await openDesk(join(folder.path, 'empty.stemroot'), { create: true });
    const run = vi.spyOn(Piscina.prototype, 'run');
    onTestFinished(() => run.mockRestore());
    await empty.warmUp();
    await empty.close();
    expect(run).not.toHaveBeenCalled();
  });

  it('ends with the desk', async () => {
    const { desk: opened } = await makeDesk();
    const warmed = opened.warmUp();
    await opened.close();
    await expect(warmed).resolves.toBeUndefined();
    desk = undefined;
  });
});
