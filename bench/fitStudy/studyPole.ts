import normal from '@stdlib/stats-base-dists-normal';
import {
  describePole,
  type FrequencyTable,
  fitRoots,
  type Pick,
  type PoleModel,
  type RootMixture,
  summarisePosterior,
  tabulateFrequencies,
} from '../../core/inference/index.ts';
import { checkVisit, type RootModelName, type VisitFile } from '../../core/recording/index.ts';
import { createRandomStream, type RandomStream } from '../../samples/random.ts';
import {
  computeRootStiffness,
  type PoleModel as ElementPole,
  SHEAR_OF_WOOD,
  solvePlane,
} from '../../samples/simulator/index.ts';

/** One of `count` poles of a case; the same study, case, roughness and index give the same pole. */
export type PoleDraw = {
  readonly study: string;
  readonly index: number;
  readonly count: number;
  /** Factor on all by which a pole departs from a straight, even and round one. */
  readonly roughness: number;
};

/** What a simulated pole stands on and carries. */
export type FitCase = { readonly truth: RootModelName; readonly hardware: 'none' | 'cable' | 'attachment' };

export const MODE_SETS = [[1, 2, 3], [1, 2], [2, 3], [1]] as const;
/** Fits of one pole: with the root that made it, with the program's own choice, and with a spring forced. */
export const FITS = ['true root', 'automatic', 'spring'] as const;

export type PoleOutcome = FitCase & {
  readonly modes: string;
  readonly fit: (typeof FITS)[number];
  readonly roughness: number;
  /** ln of median over truth. */
  readonly stemError: number;
  readonly stemHeld: boolean;
  readonly stemWidth: number;
  readonly rootHeld: boolean;
  readonly rootWidth: number;
  readonly verdict: string;
};

const MEASUREMENT_LOG_SD = 0.001;
/**
 * One standard deviation of smooth variation along the stem, of the planes' difference in diameter and soil, and of one mode in
 * one plane: of the size that the fit takes real poles to have (core/inference/irregularities.ts), which nobody has measured.
 */
const MODULUS_VARIATION = 0.05;
const GIRTH_VARIATION = 0.006;
const DENSITY_VARIATION = 0.02;
const PLANE_VARIATION = 0.01;
const SIDE_OF_SOIL_VARIATION = 0.05;
const MODE_VARIATION = 0.003;
/** Waves to a pole, half as many again as the fit knows of. */
const WAVES = [1, 2, 3, 4, 5, 6];
const CABLE_ACROSS_SHARE = 0.03;
const MESH = { above: 26, below: 8 };
const HIGHEST_HZ = 90;
const AZIMUTHS_DEG = [0, 90];

export function listCases(): FitCase[] {
  return (['spring', 'coupled', 'bedded'] as const).flatMap((truth) =>
    (['none', 'cable', 'attachment'] as const).map((hardware) => ({ truth, hardware })),
  );
}

/** A simulated pole, what would be picked on it, and the tables of all root models for its visit. */
function simulatePole(fitCase: FitCase, draw: PoleDraw) {
  const { roughness } = draw;
  const name = `${draw.study}, ${fitCase.truth}, ${fitCase.hardware}, ${roughness}`;
  const random = createRandomStream(`${name}, ${draw.index}`);
  const visit = inventVisit(fitCase, random);
  const models = new Map(
    (['bedded', 'coupled', 'spring'] as const).map((root) => [root, describePole(visit, root)]),
  );
  const normals = ['modulus', 'density', 'root'].map((what) =>
    drawInStratum(`${name}, ${what}`, draw, random),
  ) as [number, number, number];
  const pole = drawPole(models.get(fitCase.truth)!, normals, roughness, random);
  const picks = AZIMUTHS_DEG.flatMap((azimuthDeg, plane) => {
    const inPlane = pole.inPlane(
      azimuthDeg,
      1 + roughness * PLANE_VARIATION * random.normalWithin(3),
      1 + roughness * SIDE_OF_SOIL_VARIATION * random.normalWithin(3),
    );
    return solvePlane(inPlane, HIGHEST_HZ, MESH)
      .frequenciesHz.slice(0, 3)
      .map((frequencyHz, i): Pick => {
        const departure = roughness * MODE_VARIATION * random.normalWithin(3);
        const measuredHz = frequencyHz * (1 + departure + MEASUREMENT_LOG_SD * random.normalWithin(3));
        return { plane, number: i + 1, frequencyHz: measuredHz, sdHz: MEASUREMENT_LOG_SD * measuredHz };
      });
  });
  const tables = new Map(
    [...models].map(([root, model]) => [root, tabulateFrequencies(model, AZIMUTHS_DEG)]),
  );
  return { pole, picks, tables };
}

/** Simulates one pole and fits it with every set of modes and every choice of root. */
export function studyPole(fitCase: FitCase, draw: PoleDraw): PoleOutcome[] {
  const { pole, picks, tables } = simulatePole(fitCase, draw);
  const choices: Record<(typeof FITS)[number], FrequencyTable[]> = {
    'true root': [tables.get(fitCase.truth)!],
    automatic: [...tables.values()],
    spring: [tables.get('spring')!],
  };
  const { roughness } = draw;
  return (roughness === 1 ? FITS : FITS.slice(0, 1)).flatMap((fit) => {
    const prior = fitRoots(choices[fit], []);
    return MODE_SETS.map((modes): PoleOutcome => {
      const kept = picks.filter(({ number }) => (modes as readonly number[]).includes(number));
      return {
        ...fitCase,
        roughness,
        modes: modes.join('-'),
        fit,
        ...judge(fitRoots(choices[fit], kept), prior, pole),
      };
    });
  });
}

function judge(mixture: RootMixture, prior: RootMixture, truth: DrawnPole) {
  const {
    modulusPa,
    rotationalStiffnessNmPerRad: stiffness,
    identifiability,
  } = summarisePosterior(mixture, prior);
  return {
    stemError: Math.log(modulusPa.value / truth.modulusPa),
    stemHeld: modulusPa.low <= truth.modulusPa && truth.modulusPa <= modulusPa.high,
    stemWidth: Math.log(modulusPa.high / modulusPa.low),
    rootHeld: stiffness.low <= truth.rotationalNmPerRad && truth.rotationalNmPerRad <= stiffness.high,
    rootWidth: Math.log(stiffness.high / stiffness.low),
    verdict: identifiability.verdict,
  };
}

function inventVisit({ hardware }: FitCase, random: RandomStream): VisitFile {
  const lengthM = choose([9.14, 10.67, 12.19], random);
  const heightM = lengthM - 0.1 * lengthM - 0.6;
  return checkVisit(
    {
      format: 'stemroot-visit',
      version: 1,
      pole: {
        id: 'study',
        species: choose(['southern-pine', 'douglas-fir', 'western-redcedar'], random),
        lengthM,
        buttToTagM: 0.1 * lengthM + 0.6 + 1.5,
      },
      measured: {
        date: '2026-01-01',
        circumferences: [{ heightM: 1.7, circumferenceM: random.between(0.72, 0.98) }],
        topCircumferenceM: null,
        tagHeightM: 1.5,
        soil: choose(['loose-sand', 'medium-sand', 'dense-sand', 'medium-clay', 'stiff-clay'], random),
        moisturePercent: 23,
        temperatureC: 15,
        cables:
          hardware === 'cable'
            ? [
                {
                  kind: 'aerial',
                  heightM: heightM - 1,
                  azimuthDeg: 0,
                  lateralStiffnessNPerM: 1500,
                  massKg: 10,
                },
              ]
            : [],
        attachments: hardware === 'attachment' ? [{ heightM: heightM - 0.6, massKg: 60 }] : [],
      },
      recordings: [{ file: 'none.wav', channels: [{ index: 0, azimuthDeg: 0 }] }],
    },
    'study',
  );
}

function choose<T>(from: readonly T[], random: RandomStream): T {
  return from[Math.floor(random.between(0, from.length))]!;
}

type DrawnPole = {
  modulusPa: number;
  rotationalNmPerRad: number;
  inPlane: (azimuthDeg: number, diameterFactor: number, soilFactor: number) => ElementPole;
};

const strata = new Map<string, readonly number[]>();

/**
 * A standard normal from the stratum of this pole: the `count` poles of a case share out the distribution evenly, in an
 * order of its own for each quantity (Latin hypercube; McKay, Beckman & Conover 1979, Technometrics 21:239, from memory), so
 * that shares over the poles hang less on the luck of the draw.
 */
function drawInStratum(name: string, { index, count }: PoleDraw, random: RandomStream): number {
  let order = strata.get(name);
  if (order?.length !== count) {
    const shuffling = createRandomStream(name);
    order = Array.from({ length: count }, (_, i) => ({ i, key: shuffling.between(0, 1) }))
      .sort((a, b) => a.key - b.key)
      .map(({ i }) => i);
    strata.set(name, order);
  }
  return normal.quantile((order[index]! + random.between(0, 1)) / count, 0, 1);
}

/** A pole as the priors allow it, with variation along the stem that no measurement tells. */
function drawPole(
  model: PoleModel,
  [modulusZ, densityZ, rootZ]: readonly [number, number, number],
  roughness: number,
  random: RandomStream,
): DrawnPole {
  const lognormal = ({ median, logSd }: { median: number; logSd: number }) =>
    median * Math.exp(logSd * random.normalWithin(4));
  const at = ({ median, logSd }: { median: number; logSd: number }, z: number) =>
    median * Math.exp(logSd * z);
  const modulusPa = at(model.modulus, modulusZ);
  const densityKgPerM3 = at(model.density, densityZ);
  const rootStiffness = at(model.rootStiffness, rootZ);
  const settingDepthM = model.settingDepthM + model.settingDepthSdM * random.normalWithin(3);
  const shape = model.shapeForTip(model.tipDiameterSdM * random.normalWithin(3));
  const girthFactor = 1 + model.girthLogSd * random.normalWithin(3);
  const heightM = model.lengthM - settingDepthM;
  const [groundM, tipM] = shape.diametersM as [number, number];
  const waves = WAVES.map((k) => ({
    k,
    modulus: random.normalWithin(3) / k,
    girth: random.normalWithin(3) / k,
    density: random.normalWithin(3) / k,
  }));
  const vary = (field: 'modulus' | 'girth' | 'density', sd: number, h: number) =>
    1 +
    roughness *
      sd *
      waves.reduce(
        (sum, wave) => sum + wave[field] * Math.cos((Math.PI * wave.k * (h + settingDepthM)) / model.lengthM),
        0,
      );
  const masses = model.masses.map((m) => ({
    heightM: m.heightM,
    massKg: lognormal({ median: m.massKg, logSd: m.logSd }),
  }));
  const cables = model.cables.map((c) => ({
    ...c,
    stiffnessNPerM: lognormal({ median: c.stiffnessNPerM, logSd: c.logSd }),
  }));

  const shear = {
    ...SHEAR_OF_WOOD,
    modulusRatio: lognormal({ median: SHEAR_OF_WOOD.modulusRatio, logSd: model.shear!.logSd }),
  };

  const inPlane = (azimuthDeg: number, diameterFactor: number, soilFactor: number): ElementPole => ({
    heightM,
    sectionAt: (h) => {
      const d =
        girthFactor * (groundM + ((tipM - groundM) * h) / heightM) * vary('girth', GIRTH_VARIATION, h);
      return {
        areaM2: ((Math.PI * d ** 2) / 4) * vary('density', DENSITY_VARIATION, h),
        secondMomentM4:
          ((Math.PI * d ** 4) / 64) * vary('modulus', MODULUS_VARIATION, h) * diameterFactor ** 2,
      };
    },
    modulusPa,
    densityKgPerM3,
    shear,
    gravityMPerS2: 9.80665,
    root: elementRoot(model, soilFactor * rootStiffness, settingDepthM),
    springs: cables.map((c) => {
      const along = Math.cos(((c.azimuthDeg - azimuthDeg) * Math.PI) / 180) ** 2;
      return {
        heightM: c.heightM,
        stiffnessNPerM: c.stiffnessNPerM * (along + CABLE_ACROSS_SHARE * (1 - along)),
      };
    }),
    masses,
  });
  const even = inPlane(45, 1, 1);
  const rotationalNmPerRad =
    even.root.kind === 'spring'
      ? even.root.rotationalNmPerRad
      : computeRootStiffness(even).rotationalNmPerRad;
  return { modulusPa, rotationalNmPerRad, inPlane };
}

function elementRoot({ root }: PoleModel, value: number, depthM: number): ElementPole['root'] {
  if (root.model === 'spring') return { kind: 'spring', rotationalNmPerRad: value };
  const power = root.subgrade === 'linear' ? 1 : 0;
  if (root.model === 'bedded') {
    return { kind: 'bedded', settingDepthM: depthM, reactionModulusPaAt: (z) => value * z ** power };
  }
  return {
    kind: 'coupled',
    lateralNPerM: (value * depthM ** (power + 1)) / (power + 1),
    crossN: (-value * depthM ** (power + 2)) / (power + 2),
    rotationalNmPerRad: (value * depthM ** (power + 3)) / (power + 3),
  };
}
