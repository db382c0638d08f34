import { useEffect } from 'react';
import { useBenches } from '../state/index.ts';

/** A number field undoes its own typing only while there is some. */
const FIELDS_WITH_UNDO = 'input[type="text"]:not([data-typing]), input[data-typing="true"], textarea';

/** Undo and redo of every choice by keyboard, but in text fields, which undo their own typing; Escape stops placing. */
export function useStepBack(visitId: number): void {
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      const { undo, redo, look } = useBenches.getState();
      if (event.key === 'Escape') look(visitId, { placing: null });
      if (!(event.ctrlKey || event.metaKey)) return;
      if (event.target instanceof Element && event.target.matches(FIELDS_WITH_UNDO)) return;
      const key = event.key.toLowerCase();
      if (key === 'z' && event.shiftKey) redo(visitId);
      else if (key === 'z') undo(visitId);
      else if (key === 'y') redo(visitId);
      else return;
      event.preventDefault();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, [visitId]);
}
