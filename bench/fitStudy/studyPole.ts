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

/** What a simulated pole stands on and carries. */
export type FitCase = { readonly truth: RootModelName; readonly hardware: 'none' | 'cable' | 'attachment' };

export const MODE_SETS = [[1, 2, 3], [1, 2], [2, 3], [1]] as const;
/** Fits of one pole: with the root that made it, with the program's own choice, and with a spring forced. */
export const FITS = ['true root', 'automatic', 'spring'] as const;

export type PoleOutcome = FitCase & {
  readonly modes: string;
  readonly fit: (typeof FITS)[number];
  /** ln of median over truth. */
  readonly stemError: number;
  readonly stemHeld: boolean;
  readonly stemWidth: number;
  readonly rootHeld: boolean;
  readonly rootWidth: number;
  readonly verdict: string;
};

const MEASUREMENT_LOG_SD = 0.001;
/** One standard deviation of smooth variation along the stem, and of the planes' difference (ours). */
const MODULUS_VARIATION = 0.05;
const GIRTH_VARIATION = 0.006;
const DENSITY_VARIATION = 0.02;
const PLANE_VARIATION = 0.01;
const CABLE_ACROSS_SHARE = 0.03;
const MESH = { above: 26, below: 8 };
const HIGHEST_HZ = 90;
const AZIMUTHS_DEG = [0, 90];

export function listCases(): FitCase[] {
  return (['spring', 'coupled', 'bedded'] as const).flatMap((truth) =>
    (['none', 'cable', 'attachment'] as const).map((hardware) => ({ truth, hardware })),
  );
}

/** Simulates one pole and fits it with every set of modes and every choice of root. */
export function studyPole(fitCase: FitCase, seed: number): PoleOutcome[] {
  const random = createRandomStream(`fit study ${seed}`);
  const visit = inventVisit(fitCase, random);
  const models = new Map(
    (['bedded', 'coupled', 'spring'] as const).map((root) => [root, describePole(visit, root)]),
  );
  const pole = drawPole(models.get(fitCase.truth)!, random);
  const picks = AZIMUTHS_DEG.flatMap((azimuthDeg, plane) =>
    solvePlane(pole.inPlane(azimuthDeg, 1 + PLANE_VARIATION * random.normalWithin(3)), HIGHEST_HZ, MESH)
      .frequenciesHz.slice(0, 3)
      .map((frequencyHz, i): Pick => {
        const measuredHz = frequencyHz * (1 + MEASUREMENT_LOG_SD * random.normalWithin(3));
        return { plane, number: i + 1, frequencyHz: measuredHz, sdHz: MEASUREMENT_LOG_SD * measuredHz };
      }),
  );
  const tables = new Map(
    [...models].map(([root, model]) => [root, tabulateFrequencies(model, AZIMUTHS_DEG)]),
  );
  const choices: Record<(typeof FITS)[number], FrequencyTable[]> = {
    'true root': [tables.get(fitCase.truth)!],
    automatic: [...tables.values()],
    spring: [tables.get('spring')!],
  };
  return FITS.flatMap((fit) => {
    const prior = fitRoots(choices[fit], []);
    return MODE_SETS.map((modes): PoleOutcome => {
      const kept = picks.filter(({ number }) => (modes as readonly number[]).includes(number));
      return { ...fitCase, modes: modes.join('-'), fit, ...judge(fitRoots(choices[fit], kept), prior, pole) };
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
  inPlane: (azimuthDeg: number, factor: number) => ElementPole;
};

/** A pole as the priors allow it, with variation along the stem that no model knows of. */
function drawPole(model: PoleModel, random: RandomStream): DrawnPole {
  const lognormal = ({ median, logSd }: { median: number; logSd: number }) =>
    median * Math.exp(logSd * random.normalWithin(4));
  const modulusPa = lognormal(model.modulus);
  const densityKgPerM3 = lognormal(model.density);
  const rootStiffness = lognormal(model.rootStiffness);
  const settingDepthM = model.settingDepthM + model.settingDepthSdM * random.normalWithin(3);
  const shape = model.shapeForTip(model.tipDiameterSdM * random.normalWithin(3));
  const girthFactor = 1 + model.girthLogSd * random.normalWithin(3);
  const heightM = model.lengthM - settingDepthM;
  const [groundM, tipM] = shape.diametersM as [number, number];
  const waves = [1, 2, 3].map((k) => ({
    k,
    modulus: random.normalWithin(3) / k,
    girth: random.normalWithin(3) / k,
    density: random.normalWithin(3) / k,
  }));
  const vary = (field: 'modulus' | 'girth' | 'density', sd: number, h: number) =>
    1 +
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

  const inPlane = (azimuthDeg: number, factor: number): ElementPole => ({
    heightM,
    sectionAt: (h) => {
      const d =
        girthFactor * (groundM + ((tipM - groundM) * h) / heightM) * vary('girth', GIRTH_VARIATION, h);
      return {
        areaM2: ((Math.PI * d ** 2) / 4) * vary('density', DENSITY_VARIATION, h),
        secondMomentM4: ((Math.PI * d ** 4) / 64) * vary('modulus', MODULUS_VARIATION, h) * factor ** 2,
      };
    },
    modulusPa,
    densityKgPerM3,
    shear: SHEAR_OF_WOOD,
    gravityMPerS2: 9.80665,
    root: elementRoot(model, rootStiffness, settingDepthM),
    springs: cables.map((c) => {
      const along = Math.cos(((c.azimuthDeg - azimuthDeg) * Math.PI) / 180) ** 2;
      return {
        heightM: c.heightM,
        stiffnessNPerM: c.stiffnessNPerM * (along + CABLE_ACROSS_SHARE * (1 - along)),
      };
    }),
    masses,
  });
  const even = inPlane(45, 1);
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
