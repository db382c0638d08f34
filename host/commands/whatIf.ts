import { analyseVisit } from '../../core/assess.ts';
import { formatNumber } from '../../core/formatNumbers.ts';
import type { PoleChange } from '../../core/inference/index.ts';
import { namePlane } from '../../core/namePlane.ts';
import { predictChange } from '../../core/whatIf.ts';
import { readVisit } from '../visitFiles.ts';
import { print, printJson } from './print.ts';

export type WhatIfOptions = {
  modulusGpa?: number;
  fixity?: number;
  cableFactor?: number;
  addMass?: { massKg: number; heightM: number };
  depthM?: number;
  json?: boolean;
};

const MAXIMUM_HZ = 80;
const PASCAL_PER_GIGAPASCAL = 1e9;

/** Prints the frequencies of a visit's pole as fitted and as changed in thought; with `json` the spectra too. */
export function runWhatIf(path: string, options: WhatIfOptions): number {
  const change: PoleChange = {
    modulusPa: options.modulusGpa === undefined ? undefined : options.modulusGpa * PASCAL_PER_GIGAPASCAL,
    fixity: options.fixity,
    cableFactor: options.cableFactor,
    addedMass: options.addMass,
    settingDepthM: options.depthM,
  };
  const answer = predictChange(analyseVisit(readVisit(path)), [], change, MAXIMUM_HZ);
  if (options.json) {
    printJson({ visit: path, change, ...answer });
    return 0;
  }
  for (const [plane, { azimuthDeg, fittedHz, changedHz }] of answer.planes.entries()) {
    const pairs = fittedHz.map(
      (f, i) => `f${i + 1} ${formatNumber(f, 4)} -> ${formatNumber(changedHz[i]!, 4)} Hz`,
    );
    print(`${namePlane(plane, azimuthDeg)}: ${pairs.join(', ')}`);
  }
  return 0;
}
