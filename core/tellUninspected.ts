type Inspected = { readonly poleId: string; readonly isGroundLineInspected: boolean };

/**
 * On how many of the poles nobody inspected the ground line, in a sentence for whoever keeps them; null where all were.
 * @param visits - a pole may have several
 */
export function tellUninspected(visits: readonly Inspected[]): string | null {
  const poles = countPoles(visits);
  const left = countPoles(visits.filter(({ isGroundLineInspected }) => !isGroundLineInspected));
  if (left === 0) return null;
  const where = poles === 1 ? 'The' : `On ${left} of these ${poles} poles the`;
  return `${where} ground line was not inspected, and no result speaks of decay there.`;
}

function countPoles(visits: readonly Inspected[]): number {
  return new Set(visits.map(({ poleId }) => poleId)).size;
}
