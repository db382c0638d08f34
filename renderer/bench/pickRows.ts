import { decisionFor } from '../state/index.ts';
import type { Assessment, Bench, Decision, PickDecision } from '../types.ts';
import { doubtPick, type PickDoubt } from './doubtPick.ts';

/** Bending modes that the bench offers to pick in each plane. */
export const MODE_NUMBERS = [1, 2, 3, 4] as const;

export type Plane = { plane: number; azimuthDeg: number };

export type PickRow = Plane & {
  number: number;
  /** Where the pick stands now: by decision, else as proposed; null where there is none. */
  frequencyHz: number | null;
  /** What the program used for it; null where it used none, or has not answered yet to a decision on it. */
  usedHz: number | null;
  sdHz: number | null;
  predictedHz: number | null;
  residual: number | null;
  /** Chance that it does not belong to the model. */
  oddChance: number | null;
  /** Strikes that show it. */
  strikes: number | null;
  dampingRatio: number | null;
  state: 'none' | 'proposed' | 'confirmed' | 'rejected';
  reason: string;
  /** What speaks against the pick, or why there is none; null while it is not known. */
  doubt: PickDoubt | null;
  /** A decision on it waits for its answer: what else the row tells is of the pick before. */
  isAwaited: boolean;
};

/** A plane has no front: azimuths half a turn apart are the same. */
export const HALF_TURN_DEG = 180;
/** Two azimuths closer than this are one plane: a sensor at a second height is strapped on by eye. */
const SAME_PLANE_DEG = 10;

function angleBetween(a: number, b: number): number {
  const turn = Math.abs(a - b) % HALF_TURN_DEG;
  return Math.min(turn, HALF_TURN_DEG - turn);
}

/** The bending planes of a visit: those that the assessment names, else the axes of the first recording. */
export function planesOf(bench: Bench, assessment: Assessment | null): Plane[] {
  const planes: Plane[] = [];
  for (const azimuthDeg of bench.recordings[0]?.azimuthsDeg ?? []) {
    if (planes.every((p) => angleBetween(p.azimuthDeg, azimuthDeg) > SAME_PLANE_DEG)) {
      planes.push({ plane: planes.length, azimuthDeg });
    }
  }
  for (const { plane, azimuthDeg } of [...(assessment?.modes ?? []), ...(assessment?.otherPeaks ?? [])]) {
    const known = planes.findIndex((p) => p.plane === plane);
    if (known < 0) planes.push({ plane, azimuthDeg });
    else planes[known] = { plane, azimuthDeg };
  }
  return planes.sort((a, b) => a.plane - b.plane);
}

/** The plane whose azimuth is nearest to that of a channel. */
export function planeOfChannel(planes: readonly Plane[], azimuthDeg: number): Plane | undefined {
  return [...planes].sort(
    (a, b) => angleBetween(a.azimuthDeg, azimuthDeg) - angleBetween(b.azimuthDeg, azimuthDeg),
  )[0];
}

/** An analyst's pick used farther than this from where it was set, as a share, is said to be found elsewhere. */
const FOUND_ELSEWHERE = 0.005;

/** Whether the program used an analyst's pick at another frequency than it was set at. */
export function isFoundElsewhere({ state, frequencyHz, usedHz }: PickRow): boolean {
  if (state !== 'confirmed' || frequencyHz === null || usedHz === null) return false;
  return Math.abs(usedHz / frequencyHz - 1) > FOUND_ELSEWHERE;
}

/**
 * One row for each plane and mode: what the program proposes under what the analyst decided.
 * @param isAnswer - whether the assessment is the answer to these decisions, not to earlier ones
 */
export function pickRows(
  planes: readonly Plane[],
  assessment: Assessment | null,
  decisions: readonly Decision[],
  isAnswer: boolean,
): PickRow[] {
  return planes.flatMap(({ plane, azimuthDeg }) =>
    MODE_NUMBERS.map((number): PickRow => {
      const mode = assessment?.modes.find((m) => m.plane === plane && m.number === number);
      const decision = decisionFor(decisions, plane, number);
      const frequencyHz = decision ? decision.frequencyHz : (mode?.frequencyHz.value ?? null);
      const shown = frequencyHz === null ? undefined : mode;
      return {
        plane,
        azimuthDeg,
        number,
        frequencyHz,
        usedHz: isAnswer || !decision ? (shown?.frequencyHz.value ?? null) : null,
        sdHz: shown?.frequencyHz.sd ?? null,
        predictedHz: mode?.predictedHz ?? null,
        residual: shown?.residual ?? null,
        oddChance: shown?.oddChance ?? null,
        strikes: shown?.strikes ?? null,
        dampingRatio: shown?.dampingRatio.value ?? null,
        state: stateOf(decision, frequencyHz),
        reason: shown?.reason ?? '',
        doubt: assessment && isAnswer ? doubtPick(assessment, plane, number, decision) : null,
        isAwaited: decision !== undefined && !isAnswer,
      };
    }),
  );
}

function stateOf(decision: PickDecision | undefined, frequencyHz: number | null): PickRow['state'] {
  if (decision) return decision.frequencyHz === null ? 'rejected' : 'confirmed';
  return frequencyHz === null ? 'none' : 'proposed';
}
