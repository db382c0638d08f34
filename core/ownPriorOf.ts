import type { Assessment } from './assessment.ts';

const OWN_PRIOR = /^options\.priors\.(\w+)/;

/** The name under which a prior of a result was set by hand, in the visit file or by an analyst; null where it was not. */
export function ownPriorOf({ setBy, isGiven }: Assessment['priors'][number]): string | null {
  return (isGiven && setBy && OWN_PRIOR.exec(setBy)?.[1]) || null;
}
