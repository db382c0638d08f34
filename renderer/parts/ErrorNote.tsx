import { IconAlertOctagon } from '@tabler/icons-react';
import type { Failure } from '../types.ts';

/** What went wrong and what to do, in words. */
export function ErrorNote({ failure }: { failure: Failure }) {
  return (
    <div className="error-note" role="alert">
      <IconAlertOctagon size={18} aria-hidden />
      <div>
        <p className="error-message">{failure.message}</p>
        <p>{failure.hint}</p>
        <p className="quiet">Code: {failure.code}</p>
      </div>
    </div>
  );
}
