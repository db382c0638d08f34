/*
 * Words: how numbers, units, dates and names from the contract read on screen. SI comes in; the units that the
 * trade reads (GPa, kN·m, Hz) go out. Nothing here decides anything.
 */
export {
  formatChance,
  formatDifference,
  formatFigure,
  formatShare,
  nameAzimuth,
  nameFinding,
} from '../../core/workspace/contract.ts';
export {
  formatCompared,
  formatEstimate,
  formatKiloNewtonMetres,
  formatMedian,
  formatSignificant,
} from './formatQuantity.ts';
export { describeClass, describeSpecies, formatMoment, nameAxis, namePlane } from './names.ts';
