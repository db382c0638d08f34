import { IconAlertOctagon } from '@tabler/icons-react';
import type { Failure } from '../types.ts';

/** What went wrong and what to do, in words; the code, which says nothing to a reader, is there for whoever looks into the page. */
export function ErrorNote({ failure }: { failure: Failure }) {
  return (
    <div className="error-note" role="alert" data-code={failure.code}>
      <IconAlertOctagon size={18} aria-hidden />
      <div>
        <p className="error-message">{failure.message}</p>
        <p>{failure.hint}</p>
      </div>
    </div>
  );
}
