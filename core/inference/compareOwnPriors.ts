import type { Assessment } from '../assessment.ts';
import { InputError } from '../errors.ts';
import type { Priors, VisitFile } from '../recording/index.ts';
import { describePole, rootModelsOf } from './describePole.ts';
import { listPriors } from './listPriors.ts';
import { overridePriors } from './overridePriors.ts';

type Prior = Assessment['priors'][number];

/** What is known without a prior: by measurement, by the species, or by what is usual of poles and soils at large. */
type Knowledge = 'measured' | 'species' | 'usual';

/** A prior that a visit sets as a range, beside what counts without it. */
export type OwnPrior = {
  readonly set: Prior;
  readonly replaced: Prior;
  readonly knowledge: Knowledge;
  readonly distanceSds: number;
};

/**
 * Holds each prior that a visit sets as a range beside what it replaces. One without which the measurements make no pole replaces
 * nothing, nor does one of a root that does not compete.
 */
export function compareOwnPriors(visit: VisitFile): OwnPrior[] {
  const names = Object.keys(visit.options.priors ?? {}) as (keyof Priors)[];
  return names.flatMap((name) => {
    if (name === 'rootModels') return [];
    const set = findPrior(visit, name);
    const replaced = findUsual(visit, name);
    if (!set || !replaced) return [];
    const knowledge = knowledgeOf(name, visit);
    return [{ set, replaced, knowledge, distanceSds: distanceSds(set, replaced) }];
  });
}

/** Distance of their medians in standard deviations of what is replaced: a wide range of one's own excuses nothing, since its median draws all the same. */
function distanceSds(set: Prior, { median, spread }: Prior): number {
  const { of, sd } = spread!;
  const at = of === 'ln' ? Math.log(set.median / median) : set.median - median;
  return Math.abs(at) / sd;
}

function findPrior(visit: VisitFile, name: keyof Priors): Prior | undefined {
  return rootModelsOf(visit)
    .flatMap((root) => listPriors(describePole(visit, root)))
    .find(({ setBy }) => setBy === `options.priors.${name}`);
}

function findUsual(visit: VisitFile, name: keyof Priors): Prior | undefined {
  try {
    return findPrior(overridePriors(visit, { [name]: null }), name);
  } catch (error) {
    if (error instanceof InputError) return undefined;
    throw error;
  }
}

function knowledgeOf(name: Exclude<keyof Priors, 'rootModels'>, { pole, measured }: VisitFile): Knowledge {
  switch (name) {
    case 'modulusPa':
      return 'species';
    case 'densityKgPerM3':
      return measured.densityKgPerM3 == null ? 'species' : 'measured';
    case 'settingDepthM':
      return pole.buttToTagM == null || measured.tagHeightM == null ? 'usual' : 'measured';
    case 'tipGirthM':
      return measured.topCircumferenceM == null ? 'usual' : 'measured';
    case 'soilModulus':
    case 'rotationalStiffnessNmPerRad':
      return 'usual';
  }
}
