import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { useRecompute } from '../../renderer/calibration/versions/recomputeStore.ts';
import { useChanges } from '../../renderer/state/index.ts';

const IDLE = {
  state: 'idle',
  calibration: null,
  done: 0,
  total: 0,
  secondsLeft: null,
  recomputeId: null,
  problem: null,
  wrote: [],
};
const RUNNING = { ...IDLE, state: 'running', calibration: 'yard@1', total: 9 };
const refusalOf = (code: string) => ({ ok: false, code, message: `Not now: ${code}.`, hint: 'Look first.' });

/** What the host answers, by call; of several answers the last stays. */
let answers: Record<string, object[]>;
/** As a door that has one workspace alone answers. */
const NO_SHELF = refusalOf('call.notHere');

beforeEach(() => {
  vi.useFakeTimers();
  useRecompute.setState({ progress: null, failure: null, refusal: null });
  const call = async (name: string) => {
    if (name === 'shelf.list') return NO_SHELF;
    const [first, ...rest] = answers[name]!;
    if (rest.length > 0) answers[name] = rest;
    return first;
  };
  vi.stubGlobal('window', { stemroot: { call } });
});

afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

test.each(['recompute.running', 'calibration.unknown', 'calibration.reason', 'store.readOnly'])(
  'a start that is refused stays told whatever is heard after it: %s',
  async (code) => {
    const polls = [RUNNING, RUNNING, IDLE].map((value) => ({ ok: true, value }));
    answers = { 'calibration.recompute': [refusalOf(code)], 'calibration.recomputeProgress': [...polls] };
    const started = useRecompute.getState().start(7, 'E');
    await vi.runAllTimersAsync();
    await started;
    expect(answers['calibration.recomputeProgress']).toHaveLength(1);
    expect(useRecompute.getState()).toMatchObject({ progress: IDLE, failure: null, refusal: { code } });
    // until the next start is taken
    answers['calibration.recompute'] = [{ ok: true, value: RUNNING }];
    const again = useRecompute.getState().start(7, 'E');
    await vi.runAllTimersAsync();
    await again;
    expect(useRecompute.getState().refusal).toBeNull();
  },
);

test('a cancel that is refused stays told, and the run goes on being followed', async () => {
  const polls = [RUNNING, RUNNING, IDLE].map((value) => ({ ok: true, value }));
  answers = {
    'calibration.cancelRecompute': [refusalOf('store.readOnly')],
    'calibration.recomputeProgress': polls,
  };
  const followed = useRecompute.getState().follow();
  await useRecompute.getState().cancel();
  await vi.runAllTimersAsync();
  await followed;
  expect(useRecompute.getState()).toMatchObject({ progress: IDLE, refusal: { code: 'store.readOnly' } });
});

test('a second start that is refused leaves what the first one stored to this window', async () => {
  const done = { ...RUNNING, state: 'cancelled', wrote: [41] };
  const noted = vi.spyOn(useChanges.getState(), 'noteOwn');
  answers = {
    'calibration.recompute': [{ ok: true, value: RUNNING }, refusalOf('recompute.running')],
    'calibration.recomputeProgress': [RUNNING, RUNNING, done].map((value) => ({ ok: true, value })),
  };
  const first = useRecompute.getState().start(7, 'E');
  await useRecompute.getState().start(7, 'E');
  await vi.runAllTimersAsync();
  await first;
  expect(noted).toHaveBeenCalledWith([41]);
  expect(useRecompute.getState().refusal).toMatchObject({ code: 'recompute.running' });
  noted.mockRestore();
});
