import { Piscina } from 'piscina';
import { StemrootError } from '../errors.ts';
import { reportError } from '../reportError.ts';
import { callService } from './callService.ts';
import type { CallAnswer, CallName, CallRequest, CallResponse } from './contract.ts';
import type { DeskTask } from './deskWorker.ts';
import { openWorkspace } from './openWorkspace.ts';
import { refuse } from './refusal.ts';
import { createWorkspaceService } from './service.ts';
import type { Store } from './store.ts';
import { warmUp } from './warmUp.ts';

/**
 * Answers a call of the contract by its name, whatever is sent.
 * @param opening - mark of the workspace that the caller shows, by `shelf.list`; a desk has one workspace and looks at none
 */
export type AnswerCall = (name: string, request: unknown, opening?: string) => Promise<CallAnswer<CallName>>;

export type Desk = {
  readonly store: Store;
  readonly answer: AnswerCall;
  /** The same for a caller within the program. @throws StemrootError where the call is refused */
  ask<N extends CallName>(name: N, request: CallRequest<N>): Promise<CallResponse<N>>;
  /** Has the threads compile what a window asks for, ahead of a person: see {@link warmUp}. */
  warmUp(): Promise<void>;
  /** Waits for what is being worked on, then closes the workspace. */
  close(): Promise<void>;
};

/** Calls that read recordings or run the chain: from milliseconds to half a minute each. */
const LONG_CALLS: ReadonlySet<string> = new Set<CallName>([
  'visits.import',
  'visit.recordings',
  'visit.tryPicks',
  'visit.assess',
  'visit.whatIf',
  'visit.stabilisation',
  'reports.make',
  'recording.waveform',
  'recording.spectrum',
  'recording.spectrogram',
  'calibration.readTests',
  'calibration.keepTests',
  'calibration.tryRelations',
  'calibration.learning',
  'calibration.appraise',
  'calibration.publish',
  'calibration.price',
  'calibration.secondVisits',
  'calibration.import',
  'care.check',
  'care.prove',
  'care.register',
  'care.backUp',
  'care.repeat',
  'classroom.findBlows',
  'classroom.describeBlow',
  'classroom.waveform',
  'classroom.spectrum',
  'classroom.spectrogram',
  'classroom.sound',
  'classroom.openLesson',
  'classroom.importLesson',
  'classroom.startQuiz',
  'classroom.gradeQuiz',
  'classroom.printHandout',
  'intake.attach',
  'intake.attached',
  'intake.check',
  'intake.write',
  'intake.finish',
]);

/** While one thread works through a long recording, another visit can be opened. */
const THREADS = 2;

/** This file as source, or bundled beside its worker. */
const WORKER_FILE = new URL(
  import.meta.url.endsWith('.ts') ? './deskWorker.ts' : './deskWorker.js',
  import.meta.url,
).href;

/**
 * Opens a workspace for a window or a batch: short calls are answered at once, long ones on threads of their own, so
 * that nothing waits behind them. All calls about one visit go to the same thread, which keeps that visit in memory.
 * A thread that breaks down is replaced; the call that it was at is refused in words.
 * @param place - a workspace file, or the connection string of a team store
 * @throws StoreError from {@link openWorkspace}
 */
export async function openDesk(
  place: string,
  { create = false, threads = THREADS }: { create?: boolean; threads?: number } = {},
): Promise<Desk> {
  const store = await openWorkspace(place, { create });
  const handlers = createWorkspaceService(store);
  const benches = Array.from({ length: threads }, openBench);
  const threadOf = (visitId: number) => visitId % threads;
  let isClosing = false;
  let warming: Promise<void> | undefined;
  const answer: AnswerCall = async (name, request) => {
    if (!LONG_CALLS.has(name)) return callService(handlers, name, request);
    try {
      return await benches[threadOf(visitOf(request))]!.run({ workspace: store.forThreads, name, request });
    } catch (error) {
      reportError(`${name} was broken off`, error);
      return refuse(
        'work.brokenOff',
        `The work on this call was broken off (${(error as Error).message}); it stored nothing more.`,
        'Try again. If it stays, the recording may be too large for the memory of this machine.',
      );
    }
  };
  const desk: Desk = {
    store,
    answer,
    async ask<N extends CallName>(name: N, request: CallRequest<N>) {
      const answered = await answer(name, request);
      if (!answered.ok) throw new StemrootError(answered.code, answered.message, answered.hint);
      return answered.value as CallResponse<N>;
    },
    warmUp() {
      warming = warmUp(desk, threadOf, () => isClosing);
      return warming;
    },
    async close() {
      isClosing = true;
      await Promise.allSettled([warming]);
      await Promise.all(benches.map((bench) => bench.close()));
      await store.close();
    },
  };
  return desk;
}

function openBench(): Piscina<DeskTask, CallAnswer<CallName>> {
  const bench = new Piscina<DeskTask, CallAnswer<CallName>>({
    filename: WORKER_FILE,
    name: 'answerTask',
    minThreads: 1,
    maxThreads: 1,
  });
  // one that breaks down between two calls is replaced too; an event that nobody hears would end the program
  bench.on('error', (error) => reportError('A thread broke down', error));
  return bench;
}

function visitOf(request: unknown): number {
  const visitId = (request as { visitId?: unknown } | null)?.visitId;
  return Number.isSafeInteger(visitId) && (visitId as number) > 0 ? (visitId as number) : 0;
}
