import {
  CLASS_HEIGHT_FROM_BUTT_M,
  type ClassCode,
  computeClassCircumferences,
  type SampleSpecies,
} from './poleClasses.ts';
import type { RandomStream } from './random.ts';
import type { Section } from './simulator/index.ts';
import type { DecayStory } from './stories.ts';

/** The outline of a pole, heights in m above ground line, and what is left of the wood within it. */
export interface PoleShape {
  readonly circumferenceAtM: (heightM: number) => number;
  /** Section of a plane: 0 along the line, 1 across it. */
  readonly sectionAt: (plane: 0 | 1, heightM: number) => Section;
  /** Second moment of area and section modulus of the taper at the ground line, sound, plane average. */
  readonly soundGroundline: { readonly secondMomentM4: number; readonly modulusM3: number };
  /** Share of the section modulus that is left where the decay is worst. */
  readonly modulusShareLeft: number;
}

/** Poles are bought a little over the class minimum. */
const OVERSIZE_TIP = [0.01, 0.07] as const;
const OVERSIZE_BUTT = [0.0, 0.05] as const;
/** Waves of the outline against a straight taper: knots, swell of the butt (assumption, half a per cent each). */
const WAVE_SIZE = 0.005;
const WAVES_PER_LENGTH = [1.3, 2.7, 4.6] as const;
/** Half the difference of the two diameters of an oval section over their mean. */
const LARGEST_OVAL = 0.008;

/** Draws the outline of a pole of a class and takes the decay out of it. */
export function drawPoleShape(
  pole: { species: SampleSpecies; classCode: ClassCode; lengthM: number; decay?: DecayStory },
  settingDepthM: number,
  random: RandomStream,
): PoleShape {
  const least = computeClassCircumferences(pole.classCode, pole.species, pole.lengthM);
  const tipM = least.tipM * (1 + random.within(OVERSIZE_TIP));
  const nearButtM = least.nearButtM * (1 + random.within(OVERSIZE_BUTT));
  const slope = (tipM - nearButtM) / (pole.lengthM - CLASS_HEIGHT_FROM_BUTT_M);
  const straightAtM = (heightM: number): number =>
    nearButtM + slope * (heightM + settingDepthM - CLASS_HEIGHT_FROM_BUTT_M);
  const waves = WAVES_PER_LENGTH.map((count) => ({
    count,
    phase: random.between(0, 2 * Math.PI),
    size: WAVE_SIZE * random.between(0, 1),
  }));
  const circumferenceAtM = (heightM: number): number =>
    straightAtM(heightM) *
    (1 +
      waves.reduce(
        (sum, wave) =>
          sum +
          wave.size *
            Math.sin((2 * Math.PI * wave.count * (heightM + settingDepthM)) / pole.lengthM + wave.phase),
        0,
      ));
  const oval = random.between(-LARGEST_OVAL, LARGEST_OVAL);

  const sectionAt = (plane: 0 | 1, heightM: number): Section => {
    const meanM = circumferenceAtM(heightM) / Math.PI;
    const left = leaveSection(pole.decay, heightM);
    const depthM = meanM * left.outside * (1 + (plane === 0 ? oval : -oval));
    const widthM = meanM * left.outside * (1 - (plane === 0 ? oval : -oval));
    // An ellipse, less a hollow of the same shape.
    return {
      areaM2: (Math.PI / 4) * depthM * widthM * (1 - left.hollow ** 2),
      secondMomentM4: (Math.PI / 64) * depthM ** 3 * widthM * (1 - left.hollow ** 4),
    };
  };
  const groundlineM = straightAtM(0) / Math.PI;
  const worst = pole.decay;
  return {
    circumferenceAtM,
    sectionAt,
    soundGroundline: {
      secondMomentM4: (Math.PI / 64) * groundlineM ** 4,
      modulusM3: (Math.PI / 32) * groundlineM ** 3,
    },
    modulusShareLeft:
      worst === undefined ? 1 : worst.kind === 'outside' ? (1 - worst.share) ** 3 : 1 - worst.share ** 4,
  };
}

/** Share of the diameter left (outside) and diameter of the hollow over the diameter, worst in the middle third. */
function leaveSection(decay: DecayStory | undefined, heightM: number): { outside: number; hollow: number } {
  if (decay === undefined || heightM <= decay.fromM || heightM >= decay.toM) return { outside: 1, hollow: 0 };
  const place = (heightM - decay.fromM) / (decay.toM - decay.fromM);
  const depth = Math.min(1, 3 * place, 3 * (1 - place));
  return decay.kind === 'outside'
    ? { outside: 1 - decay.share * depth, hollow: 0 }
    : { outside: 1, hollow: decay.share * depth };
}
