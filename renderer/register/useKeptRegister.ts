import { useEffect, useState } from 'react';
import { readWorkspaceId } from '../client.ts';
import {
  readMirror,
  recallChoices,
  type SelectedVisit,
  useKept,
  useRegister,
  writeMirror,
} from '../state/index.ts';
import type { RegisterQuery, SavedView } from '../types.ts';

const CHOSEN_AS = 'chosen';

/** The workspace that the register was brought back for to how it was left; only once in the life of a window. */
let recalledFor: string | null = null;

/**
 * Brings back query and saved views as the last window left them, and the visits that were chosen before this tab was loaded anew;
 * keeps all of them from then on. @returns whether they are back
 */
export function useKeptRegister(): boolean {
  const [workspace, setWorkspace] = useState(recalledFor);
  const { query, views, selected } = useRegister();
  useEffect(() => {
    if (recalledFor !== null) return;
    let left = false;
    void Promise.all([
      recallChoices<RegisterQuery>('register/query'),
      recallChoices<SavedView[]>('register/views'),
      readWorkspaceId(),
    ]).then(([keptQuery, keptViews, id]) => {
      if (left) return;
      recalledFor = id ?? '';
      if (keptQuery) useRegister.getState().ask(keptQuery);
      if (keptViews) useRegister.getState().setViews(keptViews);
      const chosen = readMirror<SelectedVisit[]>(CHOSEN_AS, recalledFor) ?? [];
      useRegister.setState({ selected: new Map(chosen.map((visit) => [visit.visitId, visit])) });
      setWorkspace(recalledFor);
    });
    return () => {
      left = true;
    };
  }, []);
  useEffect(() => {
    if (workspace !== null) writeMirror(CHOSEN_AS, workspace, [...selected.values()]);
  }, [workspace, selected]);
  useKept('register/query', workspace === null ? null : query);
  useKept('register/views', workspace === null ? null : views);
  return workspace !== null;
}
