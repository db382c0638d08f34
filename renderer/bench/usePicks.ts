import { useMemo, useRef } from 'react';
import { placePick, refuse, release, renumber, useBenches, withdraw } from '../state/index.ts';
import type { Assessment, Decision, Refusal } from '../types.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { FREQUENCY_LIMITS, keepWithin } from './numberLimits.ts';
import type { PickRow } from './pickRows.ts';

/** Mode frequencies are kept to a ten-thousandth of a hertz: finer than any recording tells, and readable. */
const FREQUENCY_DECIMALS = 4;
const SHOWN_DIGITS = 4;

export type PickTarget = Pick<PickRow, 'plane' | 'azimuthDeg' | 'number'>;
type Numbering = Assessment['assignments'][number]['numbers'];

/** What an analyst can do to a pick; every way in (pointer, keys, typed number) goes through these. */
export type PickCommands = {
  place(target: PickTarget, frequencyHz: number, key?: string): void;
  confirm(target: PickTarget): void;
  /** Refuses the peak; its number is free for another. */
  refuse(target: PickTarget): void;
  /** Takes the refusal of a peak back. */
  admit(refusal: Refusal): void;
  release(target: PickTarget): void;
  renumber(target: PickTarget, to: number): void;
  /** Takes over a whole reading of which peak is which mode. */
  adopt(numbers: Numbering): void;
};

/** Stay the same while a visit is open, whatever becomes of its picks. */
export function usePicks(visitId: number, rows: readonly PickRow[]): PickCommands {
  const rowsRef = useRef(rows);
  rowsRef.current = rows;
  return useMemo<PickCommands>(() => {
    const apply = (next: (decisions: readonly Decision[]) => Decision[], words: string, key?: string) => {
      const { trails, change } = useBenches.getState();
      const { decisions } = trails[visitId]!.present;
      change(visitId, { decisions: next(decisions) }, words, key);
    };
    const rowOf = ({ plane, number }: PickTarget) =>
      rowsRef.current.find((row) => row.plane === plane && row.number === number)!;
    return {
      place(target, frequencyHz, key) {
        const { plane, number } = target;
        const hz = Number(keepWithin(frequencyHz, FREQUENCY_LIMITS).toFixed(FREQUENCY_DECIMALS));
        apply(
          (decisions) => placePick(decisions, { plane, number, frequencyHz: hz }),
          `${nameMode(target)} to ${formatHz(hz)}`,
          key,
        );
      },
      confirm(target) {
        const { plane, number } = target;
        const { frequencyHz } = rowOf(target);
        if (frequencyHz === null) return;
        apply(
          (decisions) => placePick(decisions, { plane, number, frequencyHz }),
          `${nameMode(target)} confirmed`,
        );
      },
      refuse(target) {
        const { plane, number } = target;
        const { usedHz, frequencyHz } = rowOf(target);
        const hz = usedHz ?? frequencyHz;
        if (hz === null) return;
        apply(
          (decisions) => refuse(decisions, plane, number, Number(hz.toFixed(FREQUENCY_DECIMALS))),
          `peak at ${formatHz(hz)} refused`,
        );
      },
      admit(refusal) {
        apply(
          (decisions) => withdraw(decisions, refusal),
          `peak at ${formatHz(refusal.frequencyHz)} no longer refused`,
        );
      },
      release(target) {
        apply(
          (decisions) => release(decisions, target.plane, target.number),
          `${nameMode(target)} left to the program`,
        );
      },
      renumber(target, to) {
        const { plane, number } = target;
        const { frequencyHz } = rowOf(target);
        if (frequencyHz === null || to === number) return;
        const displaced = rowOf({ ...target, number: to }).frequencyHz;
        apply(
          (decisions) => renumber(decisions, plane, number, to, frequencyHz, displaced),
          `${nameMode(target)} is mode ${to}`,
        );
      },
      adopt(numbers) {
        apply(
          (decisions) =>
            numbers.reduce<Decision[]>(
              (taken, { plane, number, frequencyHz }) =>
                number === null || number > rowsRef.current.length
                  ? taken
                  : placePick(taken, {
                      plane,
                      number,
                      frequencyHz: Number(frequencyHz.toFixed(FREQUENCY_DECIMALS)),
                    }),
              decisions.filter((decision) => 'kind' in decision),
            ),
          'another numbering of the peaks',
        );
      },
    };
  }, [visitId]);
}

export function nameMode({ plane, azimuthDeg, number }: PickTarget): string {
  return `mode ${number} of ${namePlane(plane, azimuthDeg)}`;
}

function formatHz(frequencyHz: number): string {
  return `${formatSignificant(frequencyHz, SHOWN_DIGITS)} Hz`;
}
