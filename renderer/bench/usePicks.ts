import { useMemo, useRef } from 'react';
import { placePick, refuse, release, renumber, useBenches, withdraw } from '../state/index.ts';
import type { Assessment, Decision, Refusal } from '../types.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { FREQUENCY_LIMITS, keepWithin } from './numberLimits.ts';
import type { PickRow } from './pickRows.ts';

/** Mode frequencies are kept to a ten-thousandth of a hertz: finer than any recording tells, and readable. */
const FREQUENCY_DECIMALS = 4;
const SHOWN_DIGITS = 4;

type Target = Pick<PickRow, 'plane' | 'azimuthDeg' | 'number'>;
type Numbering = Assessment['assignments'][number]['numbers'];

/** What an analyst can do to a pick; every way in (pointer, keys, typed number) goes through these. */
export type PickCommands = {
  place(target: Target, frequencyHz: number, key?: string): void;
  confirm(row: PickRow): void;
  /** Refuses the peak; its number is free for another. */
  refuse(row: PickRow): void;
  /** Takes the refusal of a peak back. */
  admit(refusal: Refusal): void;
  release(row: PickRow): void;
  renumber(row: PickRow, to: number): void;
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
      confirm(row) {
        const { plane, number, frequencyHz } = row;
        if (frequencyHz === null) return;
        apply(
          (decisions) => placePick(decisions, { plane, number, frequencyHz }),
          `${nameMode(row)} confirmed`,
        );
      },
      refuse(row) {
        const { plane, number, usedHz, frequencyHz } = row;
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
      release(row) {
        apply(
          (decisions) => release(decisions, row.plane, row.number),
          `${nameMode(row)} left to the program`,
        );
      },
      renumber(row, to) {
        const { plane, number, frequencyHz } = row;
        if (frequencyHz === null || to === number) return;
        const displaced =
          rowsRef.current.find((r) => r.plane === plane && r.number === to)?.frequencyHz ?? null;
        apply(
          (decisions) => renumber(decisions, plane, number, to, frequencyHz, displaced),
          `${nameMode(row)} is mode ${to}`,
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

function nameMode({ plane, azimuthDeg, number }: Target): string {
  return `mode ${number} of ${namePlane(plane, azimuthDeg)}`;
}

function formatHz(frequencyHz: number): string {
  return `${formatSignificant(frequencyHz, SHOWN_DIGITS)} Hz`;
}
