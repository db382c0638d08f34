import { FEWEST_OF_A_KIND, middleOf, type Ordinary, type Reach } from './describeReach.ts';
import type { RelationBasis } from './fitRelation.ts';
import { distanceOf, productOf } from './mahalanobis.ts';
import {
  labelOfPole,
  type PoleMeasurements,
  readBack,
  readPredictor,
  showPredictor,
  tellsStiffness,
} from './predictors.ts';
import { levelOf } from './prepareRows.ts';
import type { FactorName, PredictorName } from './relationSpec.ts';

/** A pole just outside of the tests, or so far out that few of them are. */
export type JustBeyond = {
  /** Measured predictors where the way from the middle of the tests to the pole leaves them, on the scale of the fit; null: it does not. */
  readonly atEdge: readonly number[] | null;
  /** By how much the pole is weaker than there, on the scale of the fit; 0 for a stiffer one. */
  readonly fall: number;
  readonly text: string;
};

const FEW_SO_FAR_OUT =
  'Few of the tests, perhaps one, lie as far from the others as this pole: its strength rests on them.';

/** A test lies the same way as a pole where it is off that way by no more than this, in standard deviations (ours). */
const ASIDE = 1;

/** Species that nobody named, or that has no name here: poles of it may be of any, and so may tests. */
export const UNNAMED = 'other';

/** A pole on the edge itself is a tested one; rounding must not put it outside. */
const ROUNDING = 1e-9;

/**
 * Looks where a pole lies against the tests of a relation.
 * @param pole - with all that the relation needs
 * @returns why nothing can be told, what a pole just outside is held to, or null inside
 */
export function findBeyond(
  reach: Reach,
  basis: RelationBasis,
  pole: PoleMeasurements,
): string | JustBeyond | null {
  return findUntestedKind(reach, pole) ?? findOutside(reach, basis, pole);
}

/** Whether a pole is as soft as the softest tenth of the tests, or softer. */
export function isAmongSoftest(
  { softEnds, parted }: Reach,
  { spec }: RelationBasis,
  pole: PoleMeasurements,
): boolean {
  const ends = softEnds.get(middleOf(parted, pole))!;
  return spec.predictors.some(
    (name, j) => tellsStiffness(name) && readPredictor(name, spec.form, pole)! <= ends[j]!,
  );
}

function findUntestedKind(reach: Reach, pole: PoleMeasurements): string | null {
  if (pole.species === UNNAMED) {
    return (
      'The species of this pole is not stated, or has no name here: nobody can see whether poles of its kind were tested, or are weaker than those that were. ' +
      'State the species with the visit.'
    );
  }
  for (const factor of new Set(reach.kinds.map((kind) => kind.factor))) {
    const level = levelOf(factor, pole);
    const kind = reach.kinds.find((known) => known.factor === factor && known.level === level);
    const poles = kind?.poles ?? 0;
    const name = nameKind(factor, level);
    if (poles < FEWEST_OF_A_KIND) {
      return (
        `${poles === 0 ? 'None' : `Only ${poles}`} of the tested poles ${poles === 1 ? 'is' : 'are'} of ${name}: from fewer than ${FEWEST_OF_A_KIND} nobody can see whether they are ` +
        'weaker than the others. Use a calibration with more tests of it, or break more poles of it.'
      );
    }
    if (kind!.overstated !== null) {
      return (
        `The ${poles} tested poles of ${name} came out weaker than the calibration tells, which takes ${factor === 'species' ? 'species' : 'treatments'} together. ` +
        'Publish one that gives each a level of its own, and use that.'
      );
    }
  }
  return null;
}

/** A kind of pole in words. */
export function nameKind(factor: FactorName, level: string | null): string {
  if (level === null) return `an unstated ${factor}`;
  if (factor === 'treatment') return `treatment ${level}`;
  return level === UNNAMED ? 'a species that is not named' : level.replaceAll('-', ' ');
}

function findOutside(reach: Reach, basis: RelationBasis, pole: PoleMeasurements): string | JustBeyond | null {
  const { spec, relation } = basis;
  // of a group without tests nothing is told, before where it lies is asked
  const middle = reach.middles.get(middleOf(reach.parted, pole))!;
  const values = spec.predictors.map((name) => readPredictor(name, spec.form, pole)!);
  const offsets = values.map((value, j) => value - middle[j]!);
  const distance = distanceOf(reach.inverseCovariance, offsets);
  const inside = Math.min(
    1,
    reach.edge / distance,
    ...offsets.map((u, j) => (u < 0 ? reach.spans[j]!.min : reach.spans[j]!.max) / u),
  );
  if (!(inside < 1 - ROUNDING)) {
    const { middles, inverseCovariance, limit, farOut } = reach.ordinary;
    const group = middleOf(reach.parted, pole);
    const way = values.map((value, j) => value - middles.get(group)![j]!);
    if (!(distanceOf(inverseCovariance, way) > limit)) return null;
    if (!isTestedSoFar(inverseCovariance, farOut.get(group)!, way)) {
      return (
        `This pole is farther out than tests mostly are, and none of them lies as far out that way: ${tellWhere(basis, reach, pole, values, distance)}. ` +
        'Check girth, species and modes; else use a calibration whose tests reach so far.'
      );
    }
    return { atEdge: null, fall: 0, text: FEW_SO_FAR_OUT };
  }
  const where = tellWhere(basis, reach, pole, values, distance);
  if (distance > reach.limit) {
    return (
      `This pole lies outside of what the tests carry: ${where}. How strong such poles are was never tested. ` +
      'Check girth, species and modes; else use a calibration whose tests reach so far.'
    );
  }
  const slopes = spec.predictors.map((name) => relation.coefficients[relation.terms.indexOf(name)]!);
  const isWeaker =
    offsets.reduce((sum, u, j) => sum + u * slopes[j]!, 0) < 0 ||
    offsets.some((u, j) => u < 0 && tellsStiffness(spec.predictors[j]!));
  return {
    atEdge: middle.map((value, j) => value + inside * offsets[j]!),
    fall: isWeaker ? (1 - inside) * distance * reach.strengthSd : 0,
    text:
      `Just outside of the tests: ${where}. ` +
      (isWeaker
        ? 'Strength is taken to fall off from there as steeply as strengths scatter, not drawn towards the mean of the tests.'
        : 'Strength is taken for that of the outermost tests, not more.'),
  };
}

/** Whether a test lies as far out as a pole, the same way: one outlying test makes room for poles like itself, not in all directions. */
function isTestedSoFar(
  inverseCovariance: Ordinary['inverseCovariance'],
  tests: readonly (readonly number[])[],
  pole: readonly number[],
): boolean {
  const distance = distanceOf(inverseCovariance, pole);
  return tests.some((test) => {
    const along = productOf(inverseCovariance, test, pole) / distance;
    const aside = Math.sqrt(Math.max(0, distanceOf(inverseCovariance, test) ** 2 - along ** 2));
    return along >= distance * (1 - ROUNDING) && aside <= ASIDE;
  });
}

/** Which predictors are beyond the tests, or that they never went together so. */
function tellWhere(
  { spec }: RelationBasis,
  { parted, tested, edge }: Reach,
  pole: PoleMeasurements,
  values: readonly number[],
  distance: number,
): string {
  const spans = tested.get(middleOf(parted, pole))!;
  const of =
    parted === null ? 'the tested poles' : `the tested poles of ${nameKind(parted, levelOf(parted, pole))}`;
  const show = (name: PredictorName, value: number) => showPredictor(name, readBack(name, spec.form, value));
  const beyond = spec.predictors.flatMap((name, j) => {
    const [value, { min, max }] = [values[j]!, spans[j]!];
    if (value >= min && value <= max) return [];
    return [
      `${labelOfPole(name)} ${show(name, value)}, where ${of} had ${show(name, min)} to ${show(name, max)}`,
    ];
  });
  if (beyond.length > 0) return beyond.join('; ');
  const list = spec.predictors.map((name, j) => `${labelOfPole(name)} ${show(name, values[j]!)}`);
  return `${list.join(' with ')}, ${distance.toFixed(1)} standard deviations from the middle of ${of}, the outermost of which is at ${edge.toFixed(1)}`;
}
