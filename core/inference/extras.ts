import {
  type BeamSystem,
  type BeamValues,
  buildBeam,
  createModeSolver,
  shapeRatio,
  staticDeflection,
} from '../beam/index.ts';
import type { Prediction } from './data.ts';
import { type FrequencyTable, MODES_KNOWN } from './frequencyTable.ts';
import { beamInput, beamValues, poleBeam } from './poleBeam.ts';
import type { PoleModel } from './poleModel.ts';

/** Quantities that a pole predicts beside its frequencies. */
export type Quantity =
  | {
      readonly kind: 'shape';
      /** Mode number from 1; ratio of its motion as sensed at one height to that at another. */
      readonly number: number;
      readonly heightM: number;
      readonly referenceHeightM: number;
    }
  /** ln of the deflection in m per N under a steady pull. */
  | { readonly kind: 'pull'; readonly forceHeightM: number; readonly readAtM: number };

/** Change of a quantity for a unit of ln E, a unit of x and one standard deviation of each uncertain input. */
export type Gradient = { readonly lnModulus: number; readonly x: number; readonly inputs: Float64Array };

const GRADIENT_STEP = 0.02;

/** Predicts a quantity in the plane of an azimuth over a table's axes, for use as a datum. */
export function predictQuantity(table: FrequencyTable, azimuthDeg: number, quantity: Quantity): Prediction {
  const evaluate = quantityOf(table, azimuthDeg, quantity, 'full');
  const ne = table.lnModulus.length;
  const values = new Float64Array(table.x.length * ne);
  for (const [i, x] of table.x.entries()) {
    for (const [j, lnE] of table.lnModulus.entries()) values[i * ne + j] = evaluate.at(x, lnE);
  }
  const k = table.nuisances.length;
  const sensitivity = new Float64Array(table.sensitivityX.length * k);
  for (const [i, x] of table.sensitivityX.entries()) {
    sensitivity.set(evaluate.inputsAt(x, table.lnModulus[(ne - 1) / 2]!), i * k);
  }
  return { values, sensitivity };
}

const gradients = new WeakMap<FrequencyTable, Map<string, Gradient>>();

/**
 * Gradient of a quantity at one stem and root: enough to foresee what measuring it would tell, so beams are the
 * table's reduced ones. Kept for each table and place.
 */
export function gradientOfQuantity(
  table: FrequencyTable,
  azimuthDeg: number,
  quantity: Quantity,
  x: number,
  lnModulus: number,
): Gradient {
  const known = gradients.get(table) ?? new Map<string, Gradient>();
  gradients.set(table, known);
  const key = JSON.stringify([azimuthDeg, quantity, x, lnModulus]);
  const there = known.get(key);
  if (there) return there;
  const evaluate = quantityOf(table, azimuthDeg, quantity, 'reduced');
  const h = GRADIENT_STEP;
  const gradient = {
    lnModulus: (evaluate.at(x, lnModulus + h) - evaluate.at(x, lnModulus - h)) / (2 * h),
    x: (evaluate.at(x + h, lnModulus) - evaluate.at(x - h, lnModulus)) / (2 * h),
    inputs: evaluate.inputsAt(x, lnModulus),
  };
  known.set(key, gradient);
  return gradient;
}

/** By full beams, or by the table's reduced ones, good to some 1e-3 in shapes and in deflections under pulls some metres up. */
type Fineness = 'full' | 'reduced';

type Evaluate = (values: BeamValues) => number;

type Evaluators = { readonly base: Evaluate; readonly changed: readonly Evaluate[] };

/** Beams of a quantity hang on the pole alone: built once for each, and kept while picks change. */
const kept = new WeakMap<FrequencyTable, Map<string, Evaluators>>();

function evaluatorsOf(table: FrequencyTable, quantity: Quantity, fineness: Fineness): Evaluators {
  const known = kept.get(table) ?? new Map<string, Evaluators>();
  kept.set(table, known);
  const key = JSON.stringify([quantity, fineness]);
  const there = known.get(key);
  if (there) return there;
  const evaluators =
    quantity.kind === 'pull'
      ? evaluatePull(table, quantity, fineness)
      : evaluateShape(table, quantity, fineness);
  known.set(key, evaluators);
  return evaluators;
}

function quantityOf(table: FrequencyTable, azimuthDeg: number, quantity: Quantity, fineness: Fineness) {
  const { model, beams } = table;
  const { base, changed } = evaluatorsOf(table, quantity, fineness);
  const at = (x: number, lnModulus: number) => base(beamValues(model, azimuthDeg, x, lnModulus));
  const inputsAt = (x: number, lnModulus: number): Float64Array => {
    const values = beamValues(model, azimuthDeg, x, lnModulus);
    const central = base(values);
    return Float64Array.from(
      beams.inputs,
      (input, k) => (changed[k]!(input.values?.(values) ?? values) - central) / input.stepSd,
    );
  };
  return { at, inputsAt };
}

function evaluatePull(
  { model, beams }: FrequencyTable,
  { forceHeightM, readAtM }: Quantity & { kind: 'pull' },
  fineness: Fineness,
): Evaluators {
  const pull = { forceN: 1, heightM: forceHeightM, readAtM };
  if (fineness === 'reduced') {
    const evaluate =
      (system: BeamSystem): Evaluate =>
      (values) =>
        Math.log(staticDeflection(system, values, pull));
    return withChanges(evaluate(beams.system), beams.inputs, (_, system) => evaluate(system));
  }
  // a spring of 0 N/m gives the Ritz functions a kink where the pull acts
  const evaluate = (changed: PoleModel): Evaluate => {
    const input = beamInput(changed);
    const system = buildBeam({ ...input, springHeightsM: [...input.springHeightsM, forceHeightM] });
    return (values) => {
      const springsNPerM = Float64Array.of(...values.springsNPerM, 0);
      return Math.log(staticDeflection(system, { ...values, springsNPerM }, pull));
    };
  };
  return withChanges(evaluate(model), beams.inputs, (geometry) => evaluate({ ...model, ...geometry }));
}

function evaluateShape(
  { model, beams }: FrequencyTable,
  quantity: Quantity & { kind: 'shape' },
  fineness: Fineness,
): Evaluators {
  const mode = quantity.number - 1;
  const evaluate = (system: BeamSystem): Evaluate => {
    const solver = createModeSolver(system, MODES_KNOWN);
    return (values) => {
      solver.solve(values);
      return shapeRatio(system, solver.shapes[mode]!, quantity, solver.frequenciesHz[mode]!);
    };
  };
  const isFull = fineness === 'full';
  return withChanges(evaluate(isFull ? poleBeam(model) : beams.system), beams.inputs, (geometry, system) =>
    evaluate(isFull ? buildBeam(beamInput({ ...model, ...geometry })) : system),
  );
}

/** An evaluator for each uncertain input: the base's own where it changes no geometry. */
function withChanges(
  base: Evaluate,
  inputs: FrequencyTable['beams']['inputs'],
  change: (geometry: Partial<PoleModel>, system: BeamSystem) => Evaluate,
): Evaluators {
  return {
    base,
    changed: inputs.map(({ geometry, system }) => (geometry && system ? change(geometry, system) : base)),
  };
}
