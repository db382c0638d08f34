import { IconLock, IconNetwork } from '@tabler/icons-react';
import type { Failure } from '../types.ts';

/** What a person should know of how the workspace was opened, across the window below its bar. */
export function NoticeStrip({ notices }: { notices: readonly Failure[] }) {
  return notices.map(({ code, message, hint }) => (
    <p key={code} className="notice-strip" role="status">
      {code === 'store.network' ? <IconNetwork size={16} aria-hidden /> : <IconLock size={16} aria-hidden />}
      <span>
        <strong>{message}</strong> {hint}
      </span>
    </p>
  ));
}
