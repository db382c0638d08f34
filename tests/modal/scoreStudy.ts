import type { ModeCandidate } from '../../core/modal/index.ts';
import { boundDecay, type SimulatedStrike, type TrueMode } from './simulateStudy.ts';

/** A true mode and what was proposed for it. Errors and deviations are shares of the truth. */
export interface ScoredMode {
  readonly truth: TrueMode;
  readonly strike: SimulatedStrike;
  readonly isFound: boolean;
  readonly frequencyError: number;
  readonly frequencySd: number;
  readonly frequencyBound: number;
  readonly dampingError: number;
  readonly dampingSd: number;
  readonly dampingBound: number;
}

export interface ScoredStrike {
  readonly modes: readonly ScoredMode[];
  readonly proposals: number;
  /** Proposals that are no true mode of their plane, or the second one for the same mode. */
  readonly falseModes: readonly ModeCandidate[];
}

/** A proposal this near, as a share, is meant for a mode; modes of one plane lie far further apart. */
const MEANT_SHARE = 0.1;
/** A proposal further from its mode than this, and than so many of its deviations, is none. */
const FALSE_SHARE = 0.02;
const FALSE_SDS = 5;

export function scoreStrike(strike: SimulatedStrike, candidates: readonly ModeCandidate[]): ScoredStrike {
  const proposed = candidates.filter((candidate) => candidate.accepted);
  const taken = new Set<ModeCandidate>();
  const modes = strike.modes.map((truth): ScoredMode => {
    const share = (c: ModeCandidate) => Math.abs(c.frequencyHz.value / truth.frequencyHz - 1);
    const own = proposed
      .filter((c) => c.plane === truth.plane && share(c) < MEANT_SHARE)
      .sort((a, b) => share(a) - share(b))[0];
    const bound = boundDecay(truth, strike.durationS);
    if (
      own !== undefined &&
      share(own) < Math.max(FALSE_SHARE, (FALSE_SDS * own.frequencyHz.sd) / truth.frequencyHz)
    )
      taken.add(own);
    return {
      truth,
      strike,
      isFound: own !== undefined,
      frequencyError: own === undefined ? Number.NaN : own.frequencyHz.value / truth.frequencyHz - 1,
      frequencySd: own === undefined ? Number.NaN : own.frequencyHz.sd / truth.frequencyHz,
      frequencyBound: bound.frequency,
      dampingError: own === undefined ? Number.NaN : own.dampingRatio.value / truth.dampingRatio - 1,
      dampingSd: own === undefined ? Number.NaN : own.dampingRatio.sd / truth.dampingRatio,
      dampingBound: bound.damping,
    };
  });
  return { modes, proposals: proposed.length, falseModes: proposed.filter((c) => !taken.has(c)) };
}

function takeQuantile(values: readonly number[], share: number): number {
  const sorted = values.filter((x) => !Number.isNaN(x)).sort((a, b) => a - b);
  if (sorted.length === 0) return Number.NaN;
  const at = share * (sorted.length - 1);
  const left = Math.floor(at);
  return sorted[left]! + (at - left) * ((sorted[left + 1] ?? sorted[left]!) - sorted[left]!);
}

export interface Summary {
  readonly modes: number;
  readonly foundShare: number;
  readonly frequencyMedian: number;
  readonly frequency95: number;
  readonly frequencyCoverage: number;
  readonly dampingMedian: number;
  readonly dampingCoverage: number;
  /** Root mean square error over the bound's, and the stated deviation's median over the bound. */
  readonly frequencyOverBound: number;
  readonly statedOverBound: number;
  readonly dampingOverBound: number;
}

const Z95 = 1.959964;

export function summarise(all: readonly ScoredMode[]): Summary {
  const found = all.filter((mode) => mode.isFound);
  const share = (count: number) => count / Math.max(1, found.length);
  const rootMean = (values: number[]) =>
    Math.sqrt(
      takeQuantile(
        values.map((x) => x * x),
        0.5,
      ) / 0.4549,
    );
  return {
    modes: all.length,
    foundShare: found.length / Math.max(1, all.length),
    frequencyMedian: takeQuantile(
      found.map((m) => Math.abs(m.frequencyError)),
      0.5,
    ),
    frequency95: takeQuantile(
      found.map((m) => Math.abs(m.frequencyError)),
      0.95,
    ),
    frequencyCoverage: share(found.filter((m) => Math.abs(m.frequencyError) < Z95 * m.frequencySd).length),
    dampingMedian: takeQuantile(
      found.map((m) => Math.abs(m.dampingError)),
      0.5,
    ),
    dampingCoverage: share(found.filter((m) => Math.abs(m.dampingError) < Z95 * m.dampingSd).length),
    frequencyOverBound: rootMean(found.map((m) => m.frequencyError / m.frequencyBound)),
    statedOverBound: takeQuantile(
      found.map((m) => m.frequencySd / m.frequencyBound),
      0.5,
    ),
    dampingOverBound: rootMean(found.map((m) => m.dampingError / m.dampingBound)),
  };
}
