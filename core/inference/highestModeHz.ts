import { createModeSolver } from '../beam/index.ts';
import { MODES_KNOWN, stiffEnd } from './frequencyTable.ts';
import { beamValues, poleBeam } from './poleBeam.ts';
import type { PoleModel } from './poleModel.ts';

/**
 * Highest frequency, Hz, that a numbered mode of a pole takes in any plane within its frequency table: at the
 * stiff end of both axes, with every cable pulling along the plane. Known before the planes are.
 */
export function highestModeHz(model: PoleModel): number {
  const { x, lnModulus } = stiffEnd(model);
  const solver = createModeSolver(poleBeam(model), MODES_KNOWN);
  solver.solve({
    ...beamValues(model, 0, x, lnModulus),
    springsNPerM: Float64Array.from(model.cables, ({ stiffnessNPerM }) => stiffnessNPerM),
  });
  return solver.frequenciesHz[MODES_KNOWN - 1]!;
}
