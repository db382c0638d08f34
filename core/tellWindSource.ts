import type { RequirementProfile } from './recording/index.ts';

/** Where the figures of a wind are from, and that it is left off the pole itself where it is. */
export function tellWindSource({ source, onPole }: NonNullable<RequirementProfile['wind']>): string {
  return onPole ? source : `${source.trim().replace(/\.$/, '')}, without wind on the pole`;
}
