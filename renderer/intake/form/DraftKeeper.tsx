import { useEffect } from 'react';
import { useKept, writeMirror } from '../../state/index.ts';
import { DRAFTS_KEPT_AS, recallDrafts, useDrafts } from './draftStore.ts';
import type { KeptDrafts } from './drafts.ts';

/** Keeps visits that are being written down, whichever place is open: at once in this tab, and in the workspace when they rest. */
export function DraftKeeper() {
  const { workspace, changedAt, drafts, openId, habits } = useDrafts();
  useEffect(() => void recallDrafts(), []);
  const state: KeptDrafts | null =
    workspace !== null && changedAt !== '' ? { changedAt, drafts, openId, habits } : null;
  useEffect(() => {
    if (state && workspace !== null) writeMirror(DRAFTS_KEPT_AS, workspace, state);
  });
  useKept(DRAFTS_KEPT_AS, state);
  return null;
}
