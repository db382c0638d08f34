import { useEffect, useState } from 'react';

/** Shorter waits are over before a sentence could be read. */
const SILENT_MS = 200;

/** Says what is being done, once it takes long enough to wonder. */
export function Waiting({ what }: { what: string }) {
  const [speaks, setSpeaks] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setSpeaks(true), SILENT_MS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <p className="waiting" role="status">
      {speaks ? what : ''}
    </p>
  );
}
