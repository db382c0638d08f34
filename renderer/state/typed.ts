import { create } from 'zustand';

/** Whatever is being typed, by form and field. */
const useEntries = create<Readonly<Record<string, unknown>>>()(() => ({}));

/**
 * As `useState`, for what a person enters: it outlives its form, so that a tab that is changed, a click beside a dialog, another
 * visit looked at meanwhile lose none of it.
 * @param form - what is entered where: `ruling 12`
 * @param first - before anything was typed
 */
export function useTyped<T>(form: string, field: string, first: T): [value: T, type: (value: T) => void] {
  const name = nameEntry(form, field);
  const value = useEntries((entries) => entries[name] as T | undefined);
  return [value === undefined ? first : value, (typed) => useEntries.setState({ [name]: typed })];
}

/** Forgets what was typed into a form, which is done with. */
export function forgetTyped(form: string): void {
  const others = Object.entries(useEntries.getState()).filter(
    ([name]) => !name.startsWith(nameEntry(form, '')),
  );
  useEntries.setState(Object.fromEntries(others), true);
}

const nameEntry = (form: string, field: string) => `${form}/${field}`;
