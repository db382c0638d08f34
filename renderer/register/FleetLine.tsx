import { useEffect, useState } from 'react';
import { useAnswer } from '../state/index.ts';
import { tellFleet } from './tellFleet.ts';

/** Often enough to see it move, seldom enough for a database that many windows ask. */
const REFRESH_MS = 5_000;

/** How far the machines are that share the work on a team store; nothing where nothing was ever enqueued. */
export function FleetLine() {
  const [revision, setRevision] = useState(0);
  const fleet = useAnswer('fleet.progress', {}, revision).value?.fleet ?? null;
  const isShown = fleet !== null;
  useEffect(() => {
    if (!isShown) return;
    const timer = setInterval(() => {
      if (!document.hidden) setRevision((last) => last + 1);
    }, REFRESH_MS);
    return () => clearInterval(timer);
  }, [isShown]);
  if (!fleet) return null;
  return <p className="fleet-line quiet">{tellFleet(fleet)}</p>;
}
