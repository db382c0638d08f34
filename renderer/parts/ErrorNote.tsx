import { IconAlertOctagon } from '@tabler/icons-react';
import type { Failure } from '../types.ts';

/** A request that the program refused before it was read: its words name parts of the call, none of the window. */
const REFUSED_UNREAD = 'call.request';

/** What went wrong and what to do, in words. */
export function ErrorNote({ failure }: { failure: Failure }) {
  const isUnread = failure.code === REFUSED_UNREAD;
  return (
    <div className="error-note" role="alert">
      <IconAlertOctagon size={18} aria-hidden />
      <div>
        <p className="error-message">
          {isUnread ? 'A value entered here is outside of what the program can take.' : failure.message}
        </p>
        <p>{isUnread ? 'Check what was typed last, and correct it.' : failure.hint}</p>
        {!isUnread && <p className="quiet">Code: {failure.code}</p>}
      </div>
    </div>
  );
}
