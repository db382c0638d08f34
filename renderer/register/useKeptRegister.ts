import { useEffect, useState } from 'react';
import { recallChoices, useKept, useRegister } from '../state/index.ts';
import type { RegisterQuery, SavedView } from '../types.ts';

/** Whether the register was brought back to how it was left; only once in the life of a window. */
let isRecalledOnce = false;

/** Brings back query and saved views as the last window left them, and keeps them from then on. @returns whether they are back */
export function useKeptRegister(): boolean {
  const [isRecalled, setRecalled] = useState(isRecalledOnce);
  const { query, views } = useRegister();
  useEffect(() => {
    if (isRecalledOnce) return;
    let left = false;
    void Promise.all([
      recallChoices<RegisterQuery>('register/query'),
      recallChoices<SavedView[]>('register/views'),
    ]).then(([keptQuery, keptViews]) => {
      if (left) return;
      isRecalledOnce = true;
      if (keptQuery) useRegister.getState().ask(keptQuery);
      if (keptViews) useRegister.getState().setViews(keptViews);
      setRecalled(true);
    });
    return () => {
      left = true;
    };
  }, []);
  useKept('register/query', isRecalled ? query : null);
  useKept('register/views', isRecalled ? views : null);
  return isRecalled;
}
