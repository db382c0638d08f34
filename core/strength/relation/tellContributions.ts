import { tellRatio } from '../../formatNumbers.ts';
import { levelTerm } from './fitGrouped.ts';
import type { RelationBasis } from './fitRelation.ts';
import { labelOfPole, readBack, showPredictor } from './predictors.ts';

const PA_PER_MPA = 1e6;
/** Contributions smaller than this, in ln, are not worth a sentence. */
const LEAST_SHARE = 0.005;

/**
 * Tells by how much each predictor and group of a pole moves its estimate away from that of a mean tested pole.
 * @param values - of this pole by term, on the scale of the fit
 */
export function tellContributions(
  { spec, relation, range }: RelationBasis,
  values: ReadonlyMap<string, number>,
): string[] {
  const coefficientOf = (term: string) => relation.coefficients[relation.terms.indexOf(term)] ?? 0;
  const ofPredictors = range.predictors.map(({ name, mean }) => {
    const value = values.get(name)!;
    const [own, usual] = [value, mean].map((v) => showPredictor(name, readBack(name, spec.form, v)));
    return {
      shift: coefficientOf(name) * (value - mean),
      text: `${labelOfPole(name)} ${own} against ${usual} of the tested poles`,
    };
  });
  const ofGroups = relation.groups.flatMap(({ factor, levels }) => {
    const own = levels.find(({ level }) => values.has(levelTerm(factor, level)));
    if (!own) return [];
    const poles = levels.reduce((sum, level) => sum + level.poles, 0);
    const mean = levels.reduce((sum, level) => sum + level.effect * level.poles, 0) / poles;
    return [{ shift: own.effect - mean, text: `${factor} ${own.level} among the tested poles` }];
  });
  return [...ofPredictors, ...ofGroups].flatMap(({ shift, text }) => {
    const told = tellShift(spec.form, shift);
    return told === null ? [] : [`${text}: strength ${told}.`];
  });
}

/** A shift of strength on the scale of the fit in words; null where it is not worth any. */
export function tellShift(form: RelationBasis['spec']['form'], shift: number): string | null {
  if (form === 'linear') {
    const megapascals = shift / PA_PER_MPA;
    return `${Math.abs(megapascals).toFixed(1)} MPa ${megapascals < 0 ? 'lower' : 'higher'}`;
  }
  if (Math.abs(shift) < LEAST_SHARE) return null;
  return tellRatio(Math.exp(shift));
}
