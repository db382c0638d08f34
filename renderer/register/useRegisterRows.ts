import { useCallback, useEffect, useRef, useState } from 'react';
import { callHost } from '../client.ts';
import { useWindow } from '../state/index.ts';
import type { CallResponse, Failure, RegisterQuery, RegisterRow } from '../types.ts';

type Answer = CallResponse<'register.query'>;

/** How often a register that is being made is looked at again. */
const LOOK_AGAIN_MS = 1000;

/** Rows asked for at once: two screens, so that a page more is seldom waited for. */
const PAGE = 100;

export type Found = {
  /** The query that these rows answer, as text, and what was stored when they were asked for. */
  key: string;
  total: number;
  matching: number;
  /** More than so many have the words; of them only the first {@link Found.matching} are listed. */
  moreThan: number | undefined;
  counts: Answer['counts'];
  /** Poles that are not in the register yet, while it is being made. */
  unfinished: number;
  pages: ReadonlyMap<number, readonly RegisterRow[]>;
};

export type RegisterRows = {
  found: Found | null;
  failure: Failure | null;
  /** The row at a place in the order; undefined where it is not here yet. */
  rowAt(place: number): RegisterRow | undefined;
  /** Has the rows of these places brought, those that are not here. */
  want(first: number, last: number): void;
};

/**
 * Rows of the register as far as they are looked at. Those of the last query stay in sight until the first of the next are here.
 * @param first - place that the first answer is to show
 */
export function useRegisterRows(query: RegisterQuery, first: number): RegisterRows {
  const stored = useWindow((s) => s.stored);
  const [found, setFound] = useState<Found | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const key = `${stored} ${JSON.stringify(query)}`;
  const keyRef = useRef(key);
  keyRef.current = key;
  const firstRef = useRef(first);
  firstRef.current = first;
  const asked = useRef(new Set<string>());
  const isFollowing = useRef(false);

  const fetchPage = useCallback(async (forKey: string, page: number) => {
    const name = `${forKey} ${page}`;
    if (asked.current.has(name)) return;
    asked.current.add(name);
    const wanted = JSON.parse(forKey.slice(forKey.indexOf(' '))) as RegisterQuery;
    const answer = await callHost('register.query', { ...wanted, offset: page * PAGE, limit: PAGE });
    asked.current.delete(name);
    if (keyRef.current !== forKey) return;
    if (!answer.ok) {
      setFailure(answer);
      return;
    }
    setFailure(null);
    const { rows, total, matching, moreThan, counts, unfinished = 0 } = answer.value;
    setFound((last) => {
      // rows of a register that grew stand elsewhere now
      const isSame = last?.key === forKey && last.unfinished === unfinished;
      const pages = new Map(isSame ? last.pages : []);
      return { key: forKey, total, matching, moreThan, counts, unfinished, pages: pages.set(page, rows) };
    });
  }, []);

  // one query at a time: of those typed meanwhile only the newest is asked
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new key asks anew.
  useEffect(() => {
    if (isFollowing.current) return;
    isFollowing.current = true;
    void follow();

    async function follow(): Promise<void> {
      for (let last: string | null = null; keyRef.current !== last; ) {
        last = keyRef.current;
        await fetchPage(last, Math.floor(firstRef.current / PAGE));
      }
      isFollowing.current = false;
    }
  }, [key, fetchPage]);

  const unfinished = found?.unfinished ?? 0;
  useEffect(() => {
    if (unfinished === 0) return;
    const timer = setInterval(() => {
      void fetchPage(keyRef.current, Math.floor(firstRef.current / PAGE));
    }, LOOK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [unfinished, fetchPage]);

  const rowAt = useCallback(
    (place: number) => found?.pages.get(Math.floor(place / PAGE))?.[place % PAGE],
    [found],
  );
  const want = useCallback(
    (from: number, to: number) => {
      if (!found || found.key !== keyRef.current) return;
      const last = Math.min(to, found.matching - 1);
      for (let page = Math.floor(from / PAGE); page <= Math.floor(last / PAGE); page++) {
        if (!found.pages.has(page)) void fetchPage(found.key, page);
      }
    },
    [found, fetchPage],
  );
  return { found, failure, rowAt, want };
}
