import { useEffect, useRef, useState } from 'react';
import { callHost } from '../client.ts';
import type { CallName, CallRequest, CallResponse, Failure } from '../types.ts';

/** What is known of a call: its last value stays in sight while a newer one is on its way. */
export type Answer<T> = {
  value: T | null;
  failure: Failure | null;
  waiting: boolean;
};

/**
 * Asks the program and keeps the newest answer; answers that were overtaken by a newer request are dropped.
 * @param request - null asks nothing yet
 * @param revision - a change asks again though the request is the same
 */
export function useAnswer<N extends CallName>(
  name: N,
  request: CallRequest<N> | null,
  revision = 0,
): Answer<CallResponse<N>> {
  const [answer, setAnswer] = useState<Answer<CallResponse<N>>>({
    value: null,
    failure: null,
    waiting: true,
  });
  const key = request === null ? null : JSON.stringify(request);
  const answeredRef = useRef<string | null>(null);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the request; a new revision asks again.
  useEffect(() => {
    if (key === null) return;
    let overtaken = false;
    setAnswer((last) => (last.waiting ? last : { ...last, waiting: true }));
    callHost(name, JSON.parse(key) as CallRequest<N>).then((result) => {
      if (overtaken) return;
      if (result.ok) {
        answeredRef.current = key;
        setAnswer({ value: result.value, failure: null, waiting: false });
      } else {
        const failure = { code: result.code, message: result.message, hint: result.hint };
        // what was answered to the very same request stays: a person may be entering something beside it
        setAnswer((last) => ({
          value: answeredRef.current === key ? last.value : null,
          failure,
          waiting: false,
        }));
      }
    });
    return () => {
      overtaken = true;
    };
  }, [name, key, revision]);

  return answer;
}
