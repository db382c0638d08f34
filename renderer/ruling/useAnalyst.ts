import { useEffect } from 'react';
import { create } from 'zustand';
import { recallChoices, useKept } from '../state/index.ts';

type Analyst = { name: string | null; setName(name: string): void };

const useStore = create<Analyst>()((set) => ({ name: null, setName: (name) => set({ name }) }));

/** Who sits at the window: typed once, and offered again in every form, in later windows too. */
export function useAnalyst(): [name: string, setName: (name: string) => void] {
  const { name, setName } = useStore();
  useEffect(() => {
    if (useStore.getState().name !== null) return;
    void recallChoices<string>('analyst').then((kept) => {
      if (useStore.getState().name === null) setName(kept ?? '');
    });
  }, [setName]);
  useKept('analyst', name || null);
  return [name ?? '', setName];
}
