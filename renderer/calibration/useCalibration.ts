import { create } from 'zustand';
import type { Candidate, PriceRequest, RequirementProfile, TriedPole } from './calibrationTypes.ts';
import { isNamedByItself, nameRelation } from './nameRelation.ts';

/** The parts of the place, in the order of the work. */
export type CalibrationView = 'tests' | 'relations' | 'threshold' | 'requirement' | 'versions';

export type ThresholdChoices = Pick<PriceRequest, 'costs' | 'weakBelow' | 'shareWeak'> & {
  /** Chance from which a pole is replaced; null: never; least: where the expected cost is least. */
  threshold: number | null | 'least';
};

type CalibrationChoices = {
  view: CalibrationView;
  /** Tests that no relation is fitted to for now. */
  leftOut: readonly number[];
  candidates: readonly Candidate[];
  /** Name of the candidate that the pictures show. */
  shown: string;
  /** Tests chosen in the pictures. */
  chosen: readonly number[];
  /** The test under the pointer or the keyboard. */
  point: number | null;
  /** The picture that the pointer or the keyboard is in. */
  pointedIn: string | null;
  thresholds: ThresholdChoices;
  /** The profile that is being entered, and the pole that it is laid against. */
  requirement: { readonly profile: RequirementProfile; readonly pole: TriedPole };
  /** The recompute whose differences are shown; null: the newest. */
  recomputeId: number | null;
  openView(view: CalibrationView): void;
  setLeftOut(leftOut: readonly number[]): void;
  show(name: string): void;
  addCandidate(candidate: Candidate): void;
  renameCandidate(name: string, newName: string): void;
  /** Changes what a relation is fitted to, and its name where nobody named it. */
  changeSpec(name: string, spec: Candidate['spec']): void;
  dropCandidate(name: string): void;
  choose(tests: readonly number[]): void;
  pointAt(testId: number | null, pointedIn?: string): void;
  setThresholds(change: Partial<ThresholdChoices>): void;
  setProfile(profile: RequirementProfile): void;
  setTriedPole(pole: TriedPole): void;
  showDifferences(recomputeId: number | null): void;
  recall(kept: Partial<KeptChoices>): void;
};

/** What is kept in the workspace from one start to the next. */
export type KeptChoices = Pick<
  CalibrationChoices,
  'leftOut' | 'candidates' | 'shown' | 'thresholds' | 'requirement'
>;

const PLAIN: Candidate['spec'] = {
  response: 'groundlineStress',
  form: 'log-linear',
  predictors: ['modulus'],
  species: 'none',
  treatment: 'none',
  estimator: 'ordinary',
  modulusError: 'ignored',
};

/** Two to begin with: the plainest, and one that lets species differ. */
const FIRST_CANDIDATES: readonly Candidate[] = [PLAIN, { ...PLAIN, species: 'pooled' as const }].map(
  (spec) => ({ name: nameRelation(spec), spec }),
);

/** A missed weak pole is worth ten needless replacements until the engineer says otherwise (ours). */
const FIRST_THRESHOLDS: ThresholdChoices = {
  costs: { missedWeak: 10, needlessReplacement: 1 },
  weakBelow: { kind: 'fibreStress', factor: 2 / 3 },
  shareWeak: null,
  threshold: 'least',
};

const FIRST_REQUIREMENT: CalibrationChoices['requirement'] = {
  profile: { name: '', source: '', conductors: [], equipment: [], forces: [] },
  // a class 4 pole of 12.2 m (40 ft), set 1.8 m
  pole: { tipHeightM: 10.4, groundlineCircumferenceM: 0.85, tipCircumferenceM: 0.53 },
};

export const useCalibration = create<CalibrationChoices>()((set) => ({
  view: 'tests',
  leftOut: [],
  candidates: FIRST_CANDIDATES,
  shown: FIRST_CANDIDATES[0]!.name,
  chosen: [],
  point: null,
  pointedIn: null,
  thresholds: FIRST_THRESHOLDS,
  requirement: FIRST_REQUIREMENT,
  recomputeId: null,
  openView: (view) => set({ view, point: null }),
  setLeftOut: (leftOut) => set({ leftOut }),
  show: (shown) => set({ shown }),
  addCandidate: (candidate) =>
    set(({ candidates }) => ({ candidates: [...candidates, candidate], shown: candidate.name })),
  renameCandidate: (name, newName) =>
    set(({ candidates, shown }) => ({
      candidates: candidates.map((own) => (own.name === name ? { ...own, name: newName } : own)),
      shown: shown === name ? newName : shown,
    })),
  changeSpec: (name, spec) =>
    set(({ candidates, shown }) => {
      const others = candidates.flatMap((own) => (own.name === name ? [] : own.name));
      const change = (own: Candidate): Candidate => ({
        name: isNamedByItself(own.name, own.spec) ? nameRelation(spec, others) : own.name,
        spec,
      });
      const changed = candidates.map((own) => (own.name === name ? change(own) : own));
      const at = candidates.findIndex((own) => own.name === name);
      return { candidates: changed, shown: shown === name ? (changed[at]?.name ?? shown) : shown };
    }),
  dropCandidate: (name) =>
    set(({ candidates, shown }) => {
      const left = candidates.filter((own) => own.name !== name);
      return { candidates: left, shown: shown === name ? (left[0]?.name ?? '') : shown };
    }),
  choose: (chosen) => set({ chosen }),
  pointAt: (point, pointedIn) => set({ point, pointedIn: pointedIn ?? null }),
  setThresholds: (change) => set(({ thresholds }) => ({ thresholds: { ...thresholds, ...change } })),
  setProfile: (profile) => set(({ requirement }) => ({ requirement: { ...requirement, profile } })),
  setTriedPole: (pole) => set(({ requirement }) => ({ requirement: { ...requirement, pole } })),
  showDifferences: (recomputeId) => set({ recomputeId, view: 'versions' }),
  recall: (kept) => set(kept),
}));
