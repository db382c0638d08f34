import { createContext, useContext } from 'react';
import type { Answers, Checked, Entry, Rows, UnitSystem } from '../intakeTypes.ts';

/** What the fields of a form share. */
export type FormAccess = {
  answers: Answers;
  rows: Rows;
  units: UnitSystem;
  /** null until the first check has come back. */
  checked: Checked | null;
  /** Whether fields that were left empty are told already: somebody tried to bring the visit in. */
  tried: boolean;
  change(change: (answers: Answers) => Answers): void;
  setEntry(path: string, entry: Entry): void;
};

const FormContext = createContext<FormAccess | null>(null);
export const FormProvider = FormContext.Provider;

export function useForm(): FormAccess {
  const form = useContext(FormContext);
  if (!form) throw new Error('A field stands outside of its form.');
  return form;
}
