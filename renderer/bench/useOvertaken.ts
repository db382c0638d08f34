import { useEffect, useState } from 'react';
import type { Assessment } from '../types.ts';
import type { Trial } from './useTrial.ts';

/** Answers that follow one another sooner than this are a picture that moves, as under a dragged pick: nothing is stale in it. */
const STALE_AFTER_MS = 300;

/** Whether what is shown has been the answer to earlier choices for so long that it must not be read for the present one. */
export function useOvertaken({ waiting, assessment }: Trial): boolean {
  const [overtaken, setOvertaken] = useState<Assessment | null>(null);
  useEffect(() => {
    if (!waiting) return;
    const timer = setTimeout(() => setOvertaken(assessment), STALE_AFTER_MS);
    return () => clearTimeout(timer);
  }, [waiting, assessment]);
  return waiting && assessment !== null && overtaken === assessment;
}
