import { useEffect } from 'react';
import { sameDecisions, useDecisions } from './state/index.ts';

/** Has the browser ask before the window goes while decisions on picks are not stored. */
export function useUnstoredGuard(): void {
  const unstored = useDecisions(({ trails }) =>
    Object.values(trails).some((trail) => !sameDecisions(trail.present, trail.stored)),
  );
  useEffect(() => {
    if (!unstored) return;
    const ask = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener('beforeunload', ask);
    return () => window.removeEventListener('beforeunload', ask);
  }, [unstored]);
}
