import { InputError } from '../../errors.ts';
import {
  CLASS_LOAD_BELOW_TIP_M,
  findFibreStress,
  findLowerCircumference,
  findPoleClass,
  type Species,
} from '../../wood/index.ts';
import { sectionModulus } from '../sectionModulus.ts';
import type { RequiredMoment } from './requiredMoment.ts';

export type ClassPole = {
  readonly classCode: string;
  /** Whole length, butt to tip. */
  readonly lengthM: number;
  /** Butt below ground line. */
  readonly settingDepthM: number;
  /** Where it is given, the moment by the designated fibre stress is told beside the class load. */
  readonly species?: Species;
};

/**
 * Computes the groundline moment of a pole's class: class load x (length - setting depth - 0.61 m).
 * It is what the class stands for, not what the line's loads ask. New poles of a class meet it on average, so that
 * a chance of one half to be below it is nothing odd in a new pole; in service the rule's threshold is what counts.
 * @throws InputError `class.unknown`; `requirement.depth` where no arm is left above ground
 */
export function requirementFromClass(pole: ClassPole): RequiredMoment {
  const { code, loadN, status, source } = findPoleClass(pole.classCode);
  const armM = pole.lengthM - pole.settingDepthM - CLASS_LOAD_BELOW_TIP_M;
  if (!(armM > 0 && pole.settingDepthM >= 0)) {
    throw new InputError(
      'requirement.depth',
      `Setting depth ${pole.settingDepthM} m leaves no load arm on a pole of ${pole.lengthM} m.`,
      'Check pole.lengthM, pole.buttToTagM and measured.tagHeightM.',
    );
  }
  const momentNm = loadN * armM;
  const item = { kind: 'class', loadN, armM, momentNm, factor: 1, requiredMomentNm: momentNm } as const;
  return {
    groundlineMomentNm: momentNm,
    source: [
      `Class ${code} load of ${Math.round(loadN)} N (${status}) at ${armM.toFixed(2)} m above ground line. ${source}`,
      tellFibreStress(pole),
    ]
      .filter(Boolean)
      .join(' '),
    items: [{ name: `Class ${code} load, 0.61 m (2 ft) below the tip`, ...item }],
  };
}

/** The same class seen by its least girth and the designated fibre stress of its species; empty where no table has it. */
function tellFibreStress({ classCode, lengthM, species }: ClassPole): string {
  const stress = species && findFibreStress(species);
  const lower = stress && findLowerCircumference(classCode, lengthM);
  if (!stress || !lower) return '';
  const momentNm = stress.meanPa * sectionModulus(lower.circumferenceM, null).sectionModulusM3;
  return (
    `Beside it: the least girth of the class, ${lower.circumferenceM.toFixed(3)} m at ${lower.fromButtM.toFixed(2)} m ` +
    `from the butt (${lower.status}), carries ${(momentNm / 1000).toFixed(1)} kN·m at the designated fibre stress of ` +
    `${(stress.meanPa / 1e6).toFixed(1)} MPa (${stress.status}). ${stress.source}`
  );
}
