/**
 * The beam against CalculiX (G. Dhondt and K. Wittig, calculix.de; Debian's calculix-ccx), a general finite element program.
 * Input: quadratic beam elements B32R of 0.1 m, which it expands into solid bricks. How the two are made to mean the same:
 * - Section: a rectangle of the round section's area and second moment (h = d sqrt(3) / 2), so that bending, mass and rotary
 *   inertia are those of the round one; its own round section is integrated at few points and 1.2 % soft in bending.
 * - Shear: a quadratic brick carries uniform shear over its height, kappa = 1, so G = E / flexibility of an orthotropic
 *   material gives the flexibility asked for; no Poisson effect, since a beam has none.
 * - Each element is prismatic at the diameter of its middle: steps of 1 mm. That errs by 6e-5 of frequency here and falls to a
 *   quarter when elements are halved, hence the tolerance of 1e-4.
 * - Masses hang on free nodes by springs of 1e11 N/m, because the program takes none at nodes of expanded elements.
 * - A rigid butt is a stub of 10^4 times the modulus and no mass, with two springs at Gauss points of its soil (its
 *   three moments are then exact); a rotational spring is a lateral one at 1 m on such a stub under a hinge; bedding is
 *   nodal springs by Simpson's weights.
 * - No self-weight: the program's is another theory (solids under stress).
 */
import { describe, expect, test } from 'vitest';
import { type BeamInput, buildBeam, createModeSolver } from '../../core/beam/index.ts';
import { askCalculix, hasCalculix } from './askCalculix.ts';

const TOLERANCE = 1e-4;
const LENGTH_M = 8.5;
const DEPTH_M = 1.7;
const ELEMENT_M = 0.1;
const MODULUS_PA = 1.05e10;
const DENSITY = 620;
const TAPERED: BeamInput['shape'] = { heightsM: [0, LENGTH_M], diametersM: [0.28, 0.19] };
const RIGID_FACTOR = 1e4;

type PointValue = { readonly heightM: number; readonly value: number };
type Case = {
  readonly name: string;
  readonly root: BeamInput['root'];
  readonly rootStiffness: number;
  readonly shape?: BeamInput['shape'];
  readonly shearFlexibility?: number;
  readonly masses?: readonly PointValue[];
  readonly cables?: readonly PointValue[];
};

const SPRING = { model: 'spring' } as const;
const butt = (model: 'coupled' | 'bedded', subgrade: 'constant' | 'linear') =>
  ({ model, subgrade, settingDepthM: DEPTH_M }) as const;
const ATTACHED: readonly PointValue[] = [
  { heightM: 2, value: 0.4 },
  { heightM: 6.1, value: 35 },
];
const CABLE: readonly PointValue[] = [{ heightM: 7.2, value: 4000 }];

const CASES: Case[] = [
  { name: 'spring root', root: SPRING, rootStiffness: 2e6 },
  { name: 'spring root, loose', root: SPRING, rootStiffness: 1.5e5 },
  { name: 'spring root, little shear', root: SPRING, rootStiffness: 2e6, shearFlexibility: 2 },
  { name: 'spring root, shear of wet wood', root: SPRING, rootStiffness: 2e6, shearFlexibility: 24 },
  {
    name: 'spring root, no taper',
    root: SPRING,
    rootStiffness: 2e6,
    shape: { heightsM: [0, LENGTH_M], diametersM: [0.25, 0.25] },
  },
  {
    name: 'spring root, measured girths',
    root: SPRING,
    rootStiffness: 2e6,
    shape: { heightsM: [0, 1.7, 4, LENGTH_M], diametersM: [0.3, 0.272, 0.262, 0.19] },
  },
  { name: 'spring root, masses', root: SPRING, rootStiffness: 2e6, masses: ATTACHED },
  { name: 'spring root, cable', root: SPRING, rootStiffness: 2e6, cables: CABLE },
  { name: 'coupled, constant soil', root: butt('coupled', 'constant'), rootStiffness: 9e6 },
  { name: 'coupled, linear soil', root: butt('coupled', 'linear'), rootStiffness: 2.2e7 },
  { name: 'bedded, constant soil', root: butt('bedded', 'constant'), rootStiffness: 9e6 },
  { name: 'bedded, firm constant soil', root: butt('bedded', 'constant'), rootStiffness: 6e7 },
  { name: 'bedded, linear soil', root: butt('bedded', 'linear'), rootStiffness: 2.2e7 },
  {
    name: 'bedded, linear soil, masses and cable',
    root: butt('bedded', 'linear'),
    rootStiffness: 2.2e7,
    masses: ATTACHED,
    cables: CABLE,
  },
];

function settle(given: Case) {
  return { shape: TAPERED, shearFlexibility: 17.8, masses: [], cables: [], ...given };
}

function ritzHz(given: Case): number[] {
  const { root, rootStiffness, shape, shearFlexibility, masses, cables } = settle(given);
  const system = buildBeam({
    lengthAboveM: LENGTH_M,
    shape,
    root,
    shearFlexibility,
    massHeightsM: masses.map((m) => m.heightM),
    springHeightsM: cables.map((c) => c.heightM),
    selfWeight: false,
  });
  const solver = createModeSolver(system, 4);
  solver.solve({
    modulusPa: MODULUS_PA,
    densityKgPerM3: DENSITY,
    rootStiffness,
    massesKg: Float64Array.from(masses, (m) => m.value),
    springsNPerM: Float64Array.from(cables, (c) => c.value),
  });
  return [...solver.frequenciesHz];
}

/** Straight between stations, and on beyond them. */
function diameterAt({ heightsM, diametersM }: BeamInput['shape'], heightM: number): number {
  const upper = heightsM.findIndex((h, i) => i > 0 && (heightM <= h || i === heightsM.length - 1));
  const [h0, h1, d0, d1] = [
    heightsM[upper - 1]!,
    heightsM[upper]!,
    diametersM[upper - 1]!,
    diametersM[upper]!,
  ];
  return d0 + ((d1 - d0) * (heightM - h0)) / (h1 - h0);
}

/** Depths and lateral springs that stand for a root; `stub` where the butt is rigid and without mass. */
function describeRoot({ root, rootStiffness }: Case): {
  depthM: number;
  stub: boolean;
  springs: PointValue[];
} {
  if (root.model === 'spring') {
    return { depthM: 1, stub: true, springs: [{ heightM: -1, value: rootStiffness }] };
  }
  if (root.model === 'matrix') throw new Error('no case has a given matrix');
  const isLinear = root.subgrade === 'linear';
  if (root.model === 'coupled') {
    // Gauss's two points of the weights 1 and z on [0, 1] (Abramowitz & Stegun 25.4.29 and .33, from memory; their moments are checked below)
    const points = isLinear
      ? [
          { z: (6 - Math.sqrt(6)) / 10, share: (9 - Math.sqrt(6)) / 36 },
          { z: (6 + Math.sqrt(6)) / 10, share: (9 + Math.sqrt(6)) / 36 },
        ]
      : [
          { z: (1 - Math.sqrt(1 / 3)) / 2, share: 1 / 2 },
          { z: (1 + Math.sqrt(1 / 3)) / 2, share: 1 / 2 },
        ];
    for (const power of [0, 1, 2]) {
      const moment = points.reduce((sum, { z, share }) => sum + share * z ** power, 0);
      expect(moment).toBeCloseTo(1 / (power + (isLinear ? 2 : 1)), 12);
    }
    const whole = rootStiffness * DEPTH_M ** (isLinear ? 2 : 1);
    const springs = points.map(({ z, share }) => ({ heightM: -z * DEPTH_M, value: share * whole }));
    return { depthM: DEPTH_M, stub: true, springs };
  }
  const elements = Math.round(DEPTH_M / ELEMENT_M);
  const springs = Array.from({ length: elements }, (_, e) =>
    [1, 4, 1].map((weight, i) => {
      const depthM = (e + i / 2) * ELEMENT_M;
      const modulus = isLinear ? rootStiffness * depthM : rootStiffness;
      return { heightM: -depthM, value: (modulus * weight * ELEMENT_M) / 6 };
    }),
  ).flat();
  return { depthM: DEPTH_M, stub: false, springs };
}

function writeInput(given: Case): string {
  const { root, shape, shearFlexibility, masses, cables } = settle(given);
  const { depthM, stub, springs } = describeRoot(given);
  // ends of elements: every tenth of a metre above; below as well, or between the springs of a rigid stub
  const above = Array.from({ length: Math.round(LENGTH_M / ELEMENT_M) + 1 }, (_, i) => i * ELEMENT_M);
  const below = stub
    ? [...new Set([-depthM, ...springs.map((s) => s.heightM)])].sort((a, b) => a - b)
    : Array.from({ length: Math.round(depthM / ELEMENT_M) }, (_, i) => -depthM + i * ELEMENT_M);
  const ends = [...below, ...above];
  const heights = ends.flatMap((end, i) => (i === 0 ? [end] : [(ends[i - 1]! + end) / 2, end]));
  const nodeAt = (heightM: number): number => {
    const node = heights.findIndex((h) => Math.abs(h - heightM) < 1e-6);
    if (node < 0) throw new Error(`no node at ${heightM} m`);
    return node + 1;
  };
  const exact = (value: number) => value.toExponential(12);
  const elements = ends.slice(1).map((end, e) => ({ id: e + 1, middleM: (ends[e]! + end) / 2 }));
  const lines = [
    '*NODE,NSET=ALL',
    ...heights.map((h, i) => `${i + 1},${exact(h)},0.,0.`),
    '*ELEMENT,TYPE=B32R,ELSET=POLE',
    ...elements.map(({ id }) => `${id},${2 * id - 1},${2 * id},${2 * id + 1}`),
  ];
  let last = elements.length;
  const atNode = new Map<number, number>();
  for (const { heightM, value } of [...springs, ...cables]) {
    atNode.set(nodeAt(heightM), (atNode.get(nodeAt(heightM)) ?? 0) + value);
  }
  for (const [node, value] of atNode) {
    if (value === 0) continue;
    last++;
    lines.push(
      `*ELEMENT,TYPE=SPRING1,ELSET=S${last}`,
      `${last},${node}`,
      `*SPRING,ELSET=S${last}`,
      '2',
      exact(value),
    );
  }
  for (const { heightM, value } of masses) {
    const free = 100_000 + ++last;
    lines.push('*NODE', `${free},${exact(heightM)},0.,0.`, '*BOUNDARY', `${free},1,1`, `${free},3,3`);
    lines.push(`*ELEMENT,TYPE=MASS,ELSET=M${last}`, `${last},${free}`, `*MASS,ELSET=M${last}`, exact(value));
    last++;
    lines.push(`*ELEMENT,TYPE=SPRING2,ELSET=S${last}`, `${last},${nodeAt(heightM)},${free}`);
    lines.push(`*SPRING,ELSET=S${last}`, '2,2', exact(1e11));
  }
  for (const [name, factor, density] of [
    ['WOOD', 1, DENSITY],
    ['RIGID', RIGID_FACTOR, 1e-6],
  ] as const) {
    const modulus = exact(factor * MODULUS_PA);
    const shear = exact((factor * MODULUS_PA) / shearFlexibility);
    lines.push(`*MATERIAL,NAME=${name}`, '*ELASTIC,TYPE=ENGINEERING CONSTANTS');
    lines.push(`${modulus},${modulus},${modulus},0.,0.,0.,${shear},${shear}`, `${modulus},293.`);
    lines.push('*DENSITY', exact(density));
  }
  for (const { id, middleM } of elements) {
    const diameterM = diameterAt(shape, middleM);
    const heightM = (diameterM * Math.sqrt(3)) / 2;
    const widthM = (Math.PI * diameterM ** 2) / 4 / heightM;
    const material = stub && middleM < 0 ? 'RIGID' : 'WOOD';
    lines.push(`*ELSET,ELSET=E${id}`, `${id}`);
    lines.push(`*BEAM SECTION,ELSET=E${id},MATERIAL=${material},SECTION=RECT`);
    lines.push(`${exact(widthM)},${exact(heightM)}`, '0.,0.,1.');
  }
  const ground = nodeAt(0);
  // one plane only: nothing moves across it or twists
  lines.push('*BOUNDARY', `${ground},1,1`, 'ALL,3,4');
  if (root.model === 'spring') lines.push(`${ground},2,2`);
  lines.push('*STEP', '*FREQUENCY', '6', '*END STEP');
  return `${lines.join('\n')}\n`;
}

const isThere = hasCalculix();
if (!isThere) {
  console.warn(
    'SKIPPED: no CalculiX (ccx) on the path, so the beam was not held against it (apt-get install calculix-ccx).',
  );
}

describe.skipIf(!isThere)('CalculiX', () => {
  test.each(CASES)('$name', (given) => {
    const wanted = askCalculix(writeInput(given));
    ritzHz(given).forEach((actual, i) => {
      const label = `mode ${i + 1}: ${actual} against ${wanted[i]} Hz`;
      expect(Math.abs(actual / wanted[i]! - 1), label).toBeLessThan(TOLERANCE);
    });
  });
});
