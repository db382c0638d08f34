import { useEffect, useState } from 'react';
import { create } from 'zustand';
import { readWorkspaceId } from '../client.ts';
import { readMirror, writeMirror } from './mirror.ts';

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

type Texts = Readonly<Record<string, string>>;

const MIRRORED_AS = 'typed';

/** Brings back texts that were typed when the window was loaded anew, and has this tab remember those that are typed now. Once in a window. */
export function useRememberedTexts(): void {
  const [workspace, setWorkspace] = useState<string | null>(null);
  const entries = useEntries();
  useEffect(() => {
    void readWorkspaceId().then((id) => {
      if (id === null) return;
      const texts = readMirror<Texts>(MIRRORED_AS, id);
      useEntries.setState((now) => ({ ...texts, ...now }));
      setWorkspace(id);
    });
  }, []);
  useEffect(() => {
    if (workspace !== null) writeMirror(MIRRORED_AS, workspace, textsOf(entries));
  }, [workspace, entries]);
}

/** Of what is typed, what can be written down. */
function textsOf(entries: Readonly<Record<string, unknown>>): Texts {
  return Object.fromEntries(
    Object.entries(entries).filter(
      (entry): entry is [string, string] => typeof entry[1] === 'string' && entry[1] !== '',
    ),
  );
}

const nameEntry = (form: string, field: string) => `${form}/${field}`;
