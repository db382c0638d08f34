import type { Decision } from '../types.ts';

export type Range = readonly [number, number];

/** What the lower figure draws: a measured spectrum, or the poles of models of rising order. */
export type SpectrumKind = 'amplitude' | 'psd' | 'multitaper' | 'orders';

/** The pole changed in thought; null leaves a part as fitted. It is shown, and never stored. */
export type Thought = {
  /** Stem and root together: one point of the picture. */
  place: { modulusPa: number; fixity: number } | null;
  cableFactor: number | null;
  massKg: number | null;
  massHeightM: number | null;
  settingDepthM: number | null;
};

/** What is looked at, and how it is computed. */
export type Settings = {
  recording: number;
  /** Among the strikes of the recording; best: by its verdict; combined: all that can be used; null: all of the recording. */
  strike: number | 'best' | 'combined' | null;
  spectrumKind: SpectrumKind;
  logarithmic: boolean;
  /** The axes of the sensor, or the pole's own planes. */
  axes: 'sensor' | 'planes';
  spectrogramChannel: number;
  spectrogramScale: 'linear' | 'log';
};

/** All that an analyst chose on the bench of one visit. */
export type BenchChoices = {
  decisions: readonly Decision[];
  /** null: nothing is changed in thought. */
  thought: Thought | null;
  settings: Settings;
};

/** Choices as they were, and in words what was changed then. */
type Step = { choices: BenchChoices; words: string };

/** Choices with what was undone and can be redone. */
export type Trail = {
  past: readonly Step[];
  present: BenchChoices;
  future: readonly Step[];
  /** The decisions of the result that is stored with the visit. */
  stored: readonly Decision[];
  /** Changes with the same key as the last one replace it: one drag is one step back. */
  lastKey: string | null;
};

/** Steps that are kept; more than anybody takes back one by one. */
const MOST_STEPS = 200;

const FIRST_SETTINGS: Settings = {
  recording: 0,
  strike: 'best',
  spectrumKind: 'amplitude',
  logarithmic: true,
  axes: 'sensor',
  spectrogramChannel: 0,
  spectrogramScale: 'linear',
};

/** The trail of a visit on which nothing was chosen since its result was stored. */
export function beginTrail(stored: readonly Decision[]): Trail {
  const present = { decisions: stored, thought: null, settings: FIRST_SETTINGS };
  return { past: [], present, future: [], stored, lastKey: null };
}

/**
 * The trail after a change.
 * @param words - what is changed, as a person reads it: "mode 2 to 5.91 Hz"
 * @param key - of a drag or a run of keys, whose changes are one step
 */
export function changeTrail(trail: Trail, part: Partial<BenchChoices>, words: string, key?: string): Trail {
  const goesOn = key !== undefined && key === trail.lastKey;
  const past = goesOn ? trail.past : [...trail.past, { choices: trail.present, words }];
  return {
    ...trail,
    past: past.slice(-MOST_STEPS),
    present: { ...trail.present, ...part },
    future: [],
    lastKey: key ?? null,
  };
}

export function undoTrail(trail: Trail): Trail {
  const last = trail.past.at(-1);
  if (!last) return trail;
  return {
    ...trail,
    past: trail.past.slice(0, -1),
    present: last.choices,
    future: [{ choices: trail.present, words: last.words }, ...trail.future],
    lastKey: null,
  };
}

export function redoTrail(trail: Trail): Trail {
  const [next, ...future] = trail.future;
  if (!next) return trail;
  return {
    ...trail,
    past: [...trail.past, { choices: trail.present, words: next.words }],
    present: next.choices,
    future,
    lastKey: null,
  };
}
