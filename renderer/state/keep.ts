import { useEffect, useRef, useState } from 'react';
import { callHost } from '../client.ts';
import type { CallRequest } from '../types.ts';
import { type BenchView, useBenches } from './benchStore.ts';
import type { Trail } from './trail.ts';

/*
 * Choices that outlive the window are kept in the workspace: the address of a local page changes with every start, and its own
 * store with it.
 */

type Json = CallRequest<'choices.keep'>['choices'];

/** A run of changes is kept once it rests for this long; a crash loses no more than that. */
const REST_MS = 400;
/** Changes with the form of what is kept; what another program kept in another form is left alone. */
const FORM = 1;

/** What was kept under a name; null where nothing is, or nothing that this program reads. */
export async function recallChoices<T>(name: string): Promise<T | null> {
  const answer = await callHost('choices.recall', { names: [name] });
  const kept = answer.ok
    ? (answer.value.choices[name] as { form?: number; value?: T } | undefined)
    : undefined;
  return kept?.form === FORM ? (kept.value ?? null) : null;
}

async function keepChoices(name: string, value: unknown): Promise<void> {
  await callHost('choices.keep', { name, choices: { form: FORM, value } as Json });
}

/** Keeps a value under a name whenever it has changed and rests, or goes out of sight. @param value - null keeps nothing yet */
export function useKept(name: string, value: unknown): void {
  const text = value === null ? null : JSON.stringify(value);
  const keptRef = useRef(text);
  const latestRef = useRef(text);
  latestRef.current = text;
  useEffect(() => {
    const keep = () => {
      const { current } = latestRef;
      if (current === null || current === keptRef.current) return;
      keptRef.current = current;
      void keepChoices(name, JSON.parse(current));
    };
    const timer = setTimeout(keep, REST_MS);
    return () => {
      clearTimeout(timer);
      // what did not rest yet is kept when the place is left
      if (latestRef.current === text) keep();
    };
  }, [name, text]);
}

/** The visit that was on the bench last, and whether all that was chosen there is stored. */
export type UnderWay = { visitId: number; poleId: string; isStored: boolean };

type KeptBench = { trail: Trail; view: BenchView };

const benchName = (visitId: number) => `bench/${visitId}`;

/**
 * What was under way on the bench of a visit when a window last showed it: undefined until that is known, null where nothing
 * was. From then on every change is kept.
 */
export function useKeptBench(visitId: number): KeptBench | null | undefined {
  const [recalled, setRecalled] = useState<{ visitId: number; kept: KeptBench | null }>();
  useEffect(() => {
    let left = false;
    void recallChoices<KeptBench>(benchName(visitId)).then((kept) => {
      if (!left) setRecalled({ visitId, kept });
    });
    return () => {
      left = true;
    };
  }, [visitId]);
  const trail = useBenches((s) => s.trails[visitId]);
  const view = useBenches((s) => s.views[visitId]);
  const isTouched = trail !== undefined && (trail.past.length > 0 || trail.future.length > 0);
  useKept(benchName(visitId), isTouched ? { trail, view: { ...view, placing: null } } : null);
  return recalled?.visitId === visitId ? recalled.kept : undefined;
}
