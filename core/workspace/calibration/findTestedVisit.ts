import type { StoredVisit } from './listVisitsOfPoles.ts';

/**
 * The visit that a table names by date, file name or name without ending; without a name the pole's only one. Of several none is
 * guessed: a pole that broke may have been replaced under the same name. Of those named alike the last brought in stands: it corrects the
 * others.
 */
export function findTestedVisit(
  visits: readonly StoredVisit[],
  name: string | null,
): StoredVisit | undefined {
  if (name === null) return visits.length === 1 ? visits[0] : undefined;
  return visits
    .filter(
      ({ date, fileName }) =>
        date === name || fileName === name || fileName.replace(/\.visit\.json$/, '') === name,
    )
    .sort((a, b) => b.visitId - a.visitId)[0];
}
