import { useEffect, useRef, useState } from 'react';
import { callHost } from '../client.ts';
import type { CallAnswer, CallName, CallRequest } from '../types.ts';

/** An answer, and the request that it answers, as text. */
type Answered<N extends CallName> = { key: string; answer: CallAnswer<N> };

/**
 * Asks the program anew for each change of a request, one call at a time: while one is under way, only the newest
 * request waits. A drag is followed as quickly as the program answers, and never builds a queue.
 * @param request - null asks nothing, and forgets the last answer
 * @returns the last answer, and whether a newer one is on its way
 */
export function useLatest<N extends CallName>(
  name: N,
  request: CallRequest<N> | null,
): { answer: CallAnswer<N> | null; waiting: boolean } {
  const key = request === null ? null : JSON.stringify(request);
  const [answered, setAnswered] = useState<Answered<N> | null>(null);
  const wantedRef = useRef<string | null>(null);
  const isAskingRef = useRef(false);
  const isGoneRef = useRef(false);

  useEffect(() => {
    isGoneRef.current = false;
    return () => {
      isGoneRef.current = true;
    };
  }, []);

  useEffect(() => {
    wantedRef.current = key;
    if (key === null) setAnswered(null);
    if (key === null || isAskingRef.current) return;
    isAskingRef.current = true;
    void follow();

    async function follow(): Promise<void> {
      for (let asked: string | null = null; wantedRef.current !== asked; ) {
        asked = wantedRef.current;
        if (asked === null) break;
        const answer = await callHost(name, JSON.parse(asked) as CallRequest<N>);
        if (isGoneRef.current) break;
        if (wantedRef.current !== null) setAnswered({ key: asked, answer });
      }
      isAskingRef.current = false;
    }
  }, [name, key]);

  return {
    answer: key === null ? null : (answered?.answer ?? null),
    waiting: key !== null && answered?.key !== key,
  };
}
