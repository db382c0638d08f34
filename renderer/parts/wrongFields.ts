import { createContext, useCallback, useContext, useEffect, useId, useState } from 'react';

type Report = (id: string, label: string | null) => void;

/** Given around fields: is told which of them hold what cannot be taken, so that nothing passes for what was typed. */
export const WrongFieldsContext = createContext<Report>(() => {});

/** Labels of the fields that hold what cannot be taken, and what they tell it to by way of {@link WrongFieldsContext}. */
export function useWrongFields(): [labels: readonly string[], report: Report] {
  const [fields, setFields] = useState<ReadonlyMap<string, string>>(new Map());
  const report = useCallback<Report>((id, label) => {
    setFields((known) => {
      const changed = new Map(known);
      if (label === null) changed.delete(id);
      else changed.set(id, label);
      return changed;
    });
  }, []);
  return [[...fields.values()], report];
}

/** Tells the form around a field of what cannot be taken, until it can or the field is gone. */
export function useReportWrong(label: string, isWrong: boolean): void {
  const report = useContext(WrongFieldsContext);
  const id = useId();
  useEffect(() => {
    if (!isWrong) return;
    report(id, label);
    return () => report(id, null);
  }, [report, id, label, isWrong]);
}
