import { useEffect } from 'react';
import { useWindow } from './state/index.ts';

const VISIT_IN_ADDRESS = /^#visit=(\d+)$/;

function readVisit(): number | null {
  const digits = VISIT_IN_ADDRESS.exec(location.hash)?.[1];
  return digits === undefined ? null : Number(digits);
}

/** Keeps the open visit in the address, so that reloading and going back do what people expect. */
export function useAddress(): void {
  useEffect(() => {
    const follow = () => {
      const visitId = readVisit();
      if (visitId === null) useWindow.getState().openRegister();
      else if (visitId !== useWindow.getState().visitId) useWindow.getState().openVisit(visitId);
    };
    follow();
    const stop = useWindow.subscribe(({ visitId }) => {
      if (visitId === readVisit()) return;
      history.pushState(
        null,
        '',
        visitId === null ? location.pathname + location.search : `#visit=${visitId}`,
      );
    });
    window.addEventListener('popstate', follow);
    return () => {
      stop();
      window.removeEventListener('popstate', follow);
    };
  }, []);
}
