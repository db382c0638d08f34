import { Matrix } from 'ml-matrix';
import type { Mesh, PoleModel, Section } from './poleModel.ts';
import { evaluateShape } from './shapeFunctions.ts';

/** Stiffness and mass of one plane, with what is needed to read a shape at any height. */
export interface AssembledPole {
  /** Full matrices over two freedoms a node (deflection, dw/dz), butt or ground line first. */
  readonly stiffness: Matrix;
  readonly mass: Matrix;
  /** Freedoms that can move. */
  readonly free: readonly number[];
  readonly groundNode: number;
  /** Freedoms and weights that give the deflection at a height. */
  readonly deflectionAt: (heightM: number) => { readonly first: number; readonly weights: readonly number[] };
}

/** Gauss-Legendre, 5 points on [0, 1]: exact to degree 9, so the mass of a linear taper (degree 8) is exact. */
const GAUSS_POINTS = [
  0.5 - 0.453089922969332,
  0.5 - 0.2692346550528415,
  0.5,
  0.5 + 0.2692346550528415,
  0.5 + 0.453089922969332,
];
const GAUSS_WEIGHTS = [
  0.1184634425280945, 0.2393143352496832, 0.2844444444444444, 0.2393143352496832, 0.1184634425280945,
];
const FREEDOMS_PER_ELEMENT = 4;

/** Assembles stiffness (with soil, springs and the softening by self-weight) and consistent mass of one plane. */
export function assemblePole(model: PoleModel, mesh: Mesh): AssembledPole {
  const depthM = model.root.kind === 'bedded' ? model.root.settingDepthM : 0;
  const below = depthM > 0 ? mesh.below : 0;
  const nodesM = [
    ...Array.from({ length: below }, (_, i) => -depthM * (1 - i / below)),
    ...Array.from({ length: mesh.above + 1 }, (_, i) => (model.heightM * i) / mesh.above),
  ];
  const stiffness = Matrix.zeros(2 * nodesM.length, 2 * nodesM.length);
  const mass = Matrix.zeros(2 * nodesM.length, 2 * nodesM.length);
  const compressionAt = computeCompression(model, nodesM);

  const phiOf = (element: number): number => {
    if (model.shear === null) return 0;
    const lengthM = nodesM[element + 1]! - nodesM[element]!;
    const middle = model.sectionAt((nodesM[element]! + nodesM[element + 1]!) / 2);
    const { modulusRatio, coefficient } = model.shear;
    return (12 * middle.secondMomentM4 * modulusRatio) / (coefficient * middle.areaM2 * lengthM * lengthM);
  };

  for (let element = 0; element + 1 < nodesM.length; element++) {
    addElement(element, phiOf(element), model, nodesM, compressionAt, stiffness, mass);
  }

  const deflectionAt: AssembledPole['deflectionAt'] = (heightM) => {
    let element = nodesM.length - 2;
    while (element > 0 && nodesM[element]! > heightM) element--;
    const lengthM = nodesM[element + 1]! - nodesM[element]!;
    const weights = evaluateShape((heightM - nodesM[element]!) / lengthM, lengthM, phiOf(element)).deflection;
    return { first: 2 * element, weights };
  };
  for (const spring of model.springs)
    addPoint(stiffness, deflectionAt(spring.heightM), spring.stiffnessNPerM);
  for (const lump of model.masses) addPoint(mass, deflectionAt(lump.heightM), lump.massKg);

  const free = supportGround(model, below, stiffness);
  return { stiffness, mass, free, groundNode: below, deflectionAt };
}

function addElement(
  element: number,
  phi: number,
  model: PoleModel,
  nodesM: readonly number[],
  compressionAt: (heightM: number) => number,
  stiffness: Matrix,
  mass: Matrix,
): void {
  const bottomM = nodesM[element]!;
  const lengthM = nodesM[element + 1]! - bottomM;
  for (const [point, xi] of GAUSS_POINTS.entries()) {
    const heightM = bottomM + xi * lengthM;
    const weightM = GAUSS_WEIGHTS[point]! * lengthM;
    const section: Section = model.sectionAt(heightM);
    const shape = evaluateShape(xi, lengthM, phi);
    const bending = model.modulusPa * section.secondMomentM4;
    const shearing =
      model.shear === null
        ? 0
        : (model.shear.coefficient * section.areaM2 * model.modulusPa) / model.shear.modulusRatio;
    const rotary = model.shear === null ? 0 : model.densityKgPerM3 * section.secondMomentM4;
    const soil = heightM < 0 && model.root.kind === 'bedded' ? model.root.reactionModulusPaAt(-heightM) : 0;
    const compression = compressionAt(heightM);
    for (let i = 0; i < FREEDOMS_PER_ELEMENT; i++) {
      for (let j = i; j < FREEDOMS_PER_ELEMENT; j++) {
        const strain = (shape.slope[i]! - shape.rotation[i]!) * (shape.slope[j]! - shape.rotation[j]!);
        const deflection = shape.deflection[i]! * shape.deflection[j]!;
        add(
          stiffness,
          2 * element + i,
          2 * element + j,
          weightM *
            (bending * shape.curvature[i]! * shape.curvature[j]! +
              shearing * strain +
              soil * deflection -
              compression * shape.slope[i]! * shape.slope[j]!),
        );
        add(
          mass,
          2 * element + i,
          2 * element + j,
          weightM *
            (model.densityKgPerM3 * section.areaM2 * deflection +
              rotary * shape.rotation[i]! * shape.rotation[j]!),
        );
      }
    }
  }
}

/** Axial force from the weight above a height; below ground the ground line's value (friction on the butt left out). */
function computeCompression(model: PoleModel, nodesM: readonly number[]): (heightM: number) => number {
  const weightAboveN = nodesM.map(() => 0);
  for (let i = nodesM.length - 2; i >= 0; i--) {
    const lengthM = nodesM[i + 1]! - nodesM[i]!;
    const area = GAUSS_POINTS.reduce(
      (sum, xi, point) => sum + GAUSS_WEIGHTS[point]! * model.sectionAt(nodesM[i]! + xi * lengthM).areaM2,
      0,
    );
    weightAboveN[i] = weightAboveN[i + 1]! + model.gravityMPerS2 * model.densityKgPerM3 * area * lengthM;
  }
  return (heightM) => {
    const clamped = Math.max(0, heightM);
    let i = nodesM.length - 2;
    while (i > 0 && nodesM[i]! > clamped) i--;
    const share = (clamped - nodesM[i]!) / (nodesM[i + 1]! - nodesM[i]!);
    const lumpsKg = model.masses.reduce((sum, lump) => sum + (lump.heightM > clamped ? lump.massKg : 0), 0);
    return weightAboveN[i]! * (1 - share) + weightAboveN[i + 1]! * share + lumpsKg * model.gravityMPerS2;
  };
}

function supportGround(model: PoleModel, groundNode: number, stiffness: Matrix): number[] {
  const all = Array.from({ length: stiffness.rows }, (_, i) => i);
  const deflection = 2 * groundNode;
  const rotation = deflection + 1;
  switch (model.root.kind) {
    case 'bedded':
      return all;
    case 'coupled':
      add(stiffness, deflection, deflection, model.root.lateralNPerM);
      add(stiffness, deflection, rotation, model.root.crossN);
      add(stiffness, rotation, rotation, model.root.rotationalNmPerRad);
      return all;
    case 'spring': {
      const clamped = model.root.rotationalNmPerRad === Number.POSITIVE_INFINITY;
      if (!clamped) add(stiffness, rotation, rotation, model.root.rotationalNmPerRad);
      return all.filter((freedom) => freedom !== deflection && !(clamped && freedom === rotation));
    }
  }
}

function addPoint(matrix: Matrix, place: { first: number; weights: readonly number[] }, value: number): void {
  for (const [i, left] of place.weights.entries()) {
    for (let j = i; j < place.weights.length; j++) {
      add(matrix, place.first + i, place.first + j, value * left * place.weights[j]!);
    }
  }
}

/** Adds to one entry and to its mirror, so that the matrix stays symmetric to the last bit. */
function add(matrix: Matrix, row: number, column: number, value: number): void {
  const sum = matrix.get(row, column) + value;
  matrix.set(row, column, sum);
  matrix.set(column, row, sum);
}
