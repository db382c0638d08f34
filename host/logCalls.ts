import type { AnswerCall } from '../core/workspace/index.ts';
import { ASKED_ALL_THE_TIME } from './askedAllTheTime.ts';
import type { HostLog } from './serve.ts';

/** Has every call logged: its name, how long it took and how it ended; never what it brought or answered. */
export function logCalls(answer: AnswerCall, log: HostLog): AnswerCall {
  return async (name, request, opening) => {
    const started = performance.now();
    const answered = await answer(name, request, opening);
    if (name === ASKED_ALL_THE_TIME && answered.ok) return answered;
    const ms = Math.round(performance.now() - started);
    log.info({ call: name.slice(0, LONGEST_NAME), ms, outcome: answered.ok ? 'ok' : answered.code }, 'call');
    return answered;
  };
}

/** A caller may send any name; longer than this is none. */
const LONGEST_NAME = 60;
