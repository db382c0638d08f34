import type { Assessment } from '../../assessment.ts';

type Identifiability = NonNullable<Assessment['identifiability']>;

/** How well the recordings tell stem and root apart, as a sentence. */
export function tellIdentifiability(verdict: Identifiability['verdict']): string {
  return {
    separated: 'The recordings tell stem and root apart.',
    'one-sided': 'The recordings bound stem or root on one side only.',
    'not separated': 'The recordings do not tell stem and root apart.',
  }[verdict];
}
