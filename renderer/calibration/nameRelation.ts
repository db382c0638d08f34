import type { RelationSpec } from './calibrationTypes.ts';

/** A predictor in the room of a name. */
const WORDS: Readonly<Record<RelationSpec['predictors'][number], string>> = {
  modulus: 'stiffness',
  specificModulus: 'stiffness over density',
  frequency1: 'mode 1',
  frequency2: 'mode 2',
  frequency3: 'mode 3',
  circumference: 'girth',
  fixity: 'fixity',
  age: 'age',
  moisture: 'moisture',
};
/** More parts than these are counted: a name has to go beside a figure. */
const MOST_NAMED = 3;

/** What a relation is called while nobody named it: by what it predicts from. @param taken - names of the others */
export function nameRelation(spec: RelationSpec, taken: readonly string[] = []): string {
  const base = nameParts(spec);
  let name = base;
  for (let number = 2; taken.includes(name); number++) name = `${base} ${number}`;
  return name;
}

/** Whether a name is one that a relation has by itself, and goes with its choices. */
export function isNamedByItself(name: string, spec: RelationSpec): boolean {
  const base = nameParts(spec);
  return name === base || (name.startsWith(`${base} `) && /^\d+$/.test(name.slice(base.length + 1)));
}

function nameParts({ predictors, species, treatment }: RelationSpec): string {
  const parts = [
    ...predictors.map((predictor) => WORDS[predictor]),
    ...(species === 'none' ? [] : ['species']),
    ...(treatment === 'none' ? [] : ['treatment']),
  ];
  const [first] = parts;
  if (first === undefined) return 'mean of the tests';
  if (parts.length === 1) return `${first} alone`;
  const named = parts.length > MOST_NAMED ? parts.slice(0, MOST_NAMED - 1) : parts.slice(0, -1);
  const last = parts.length > MOST_NAMED ? `${parts.length - named.length} more` : parts.at(-1);
  return `${named.join(', ')} and ${last}`;
}
