import { StemrootError } from '../errors.ts';
import type { CallName, CallRequest, CallResponse } from './contract.ts';

/** A desk, as far as it is asked here. */
type Asked = {
  answer(name: CallName, request: unknown): Promise<unknown>;
  ask<N extends CallName>(name: N, request: CallRequest<N>): Promise<CallResponse<N>>;
};

/** The second meets what the first had compiled, and memory that it left. */
const VISITS_A_THREAD = 2;
/** Among so many visits each thread finds its own, unless all fall to one. */
const LOOKED_THROUGH = 20;
/** More than a plot has pixels. */
const COLUMNS = 900;

/**
 * Has each thread of a desk work through visits at the head of the register as a window does that opens them and moves a pick;
 * nothing is stored. Without it the first visit of a day takes seconds and the next ones longer than later ones: code is
 * compiled, and memory asked for. A call of a person waits for one of these at most.
 * @param threadOf - the thread that a visit falls to
 * @param isOver - asked between calls
 */
export async function warmUp(
  { answer, ask }: Asked,
  threadOf: (visitId: number) => number,
  isOver: () => boolean,
): Promise<void> {
  const { rows } = await ask('register.query', { limit: LOOKED_THROUGH });
  const byThread = Map.groupBy(rows, ({ visitId }) => threadOf(visitId));
  const worked = await Promise.allSettled(
    [...byThread.values()].map(async (ofThread) => {
      for (const { visitId } of ofThread.slice(0, VISITS_A_THREAD)) await workThrough(visitId);
    }),
  );
  const broken = worked.find(({ status }) => status === 'rejected');
  if (broken) throw (broken as PromiseRejectedResult).reason;

  async function workThrough(visitId: number): Promise<void> {
    const opened = isOver() ? null : await open(visitId);
    if (opened === null) return;
    const { assessment, decisions } = opened;
    const [strike] = assessment?.strikes ?? [];
    const stretches = strike ? [{ startS: strike.startS, endS: strike.endS }] : [];
    const first = { visitId, recording: 0 };
    await meet('visit.recordings', { visitId });
    await meet('recording.waveform', { ...first, columns: COLUMNS });
    await meet('recording.spectrogram', { ...first, channel: 0 });
    await meet('recording.spectrum', { ...first, stretches });
    await meet('visit.tryPicks', { visitId, decisions });
  }

  /** What is wrong with a visit is told where a person opens it: null here. */
  async function open(visitId: number): Promise<CallResponse<'visit.open'> | null> {
    try {
      return await ask('visit.open', { visitId });
    } catch (error) {
      if (error instanceof StemrootError) return null;
      throw error;
    }
  }

  async function meet<N extends CallName>(name: N, request: CallRequest<N>): Promise<void> {
    if (!isOver()) await answer(name, request);
  }
}
