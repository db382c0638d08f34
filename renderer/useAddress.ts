import { useEffect } from 'react';
import { type Place, useWindow } from './state/index.ts';

const VISIT_IN_ADDRESS = /^#visit=(\d+)$/;
const PLACE_IN_ADDRESS = /^#(calibration|classroom|intake)$/;

type Whereabouts = { place: Place; visitId: number | null };

function readAddress(): Whereabouts {
  const digits = VISIT_IN_ADDRESS.exec(location.hash)?.[1];
  if (digits !== undefined) return { place: 'bench', visitId: Number(digits) };
  const place = PLACE_IN_ADDRESS.exec(location.hash)?.[1] as Exclude<Place, 'bench'> | undefined;
  return { place: place ?? 'register', visitId: null };
}

function writeAddress({ place, visitId }: Whereabouts): string {
  if (place === 'bench') return `#visit=${visitId}`;
  return place === 'register' ? location.pathname + location.search : `#${place}`;
}

/** Keeps the open place and visit in the address, so that reloading and going back do what people expect. */
export function useAddress(): void {
  useEffect(() => {
    const follow = () => {
      const { place, visitId } = readAddress();
      const { visitId: open, openVisit, openPlace } = useWindow.getState();
      if (place !== 'bench') openPlace(place);
      else if (visitId !== null && visitId !== open) openVisit(visitId);
    };
    follow();
    const stop = useWindow.subscribe(({ place, visitId }) => {
      const named = readAddress();
      if (place === named.place && visitId === named.visitId) return;
      history.pushState(null, '', writeAddress({ place, visitId }));
    });
    window.addEventListener('popstate', follow);
    return () => {
      stop();
      window.removeEventListener('popstate', follow);
    };
  }, []);
}
