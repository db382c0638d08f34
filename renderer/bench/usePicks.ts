import { useMemo } from 'react';
import { decide, release, renumber, useDecisions } from '../state/index.ts';
import type { PickDecision } from '../types.ts';
import { FREQUENCY_LIMITS, keepWithin } from './numberLimits.ts';
import type { PickRow } from './pickRows.ts';

/** Mode frequencies are kept to a ten-thousandth of a hertz: finer than any recording tells, and readable. */
const FREQUENCY_STEP_HZ = 1e-4;

/** What an analyst can do to a pick; every way in (pointer, keys, typed number) goes through these. */
export type PickCommands = {
  place(row: Pick<PickRow, 'plane' | 'number'>, frequencyHz: number, key?: string): void;
  confirm(row: PickRow): void;
  reject(row: Pick<PickRow, 'plane' | 'number'>): void;
  release(row: Pick<PickRow, 'plane' | 'number'>): void;
  renumber(row: PickRow, to: number): void;
};

const none: readonly PickDecision[] = [];

export function usePicks(visitId: number, rows: readonly PickRow[]): PickCommands {
  const change = useDecisions((s) => s.change);
  return useMemo<PickCommands>(() => {
    const present = () => useDecisions.getState().trails[visitId]?.present ?? none;
    const place: PickCommands['place'] = ({ plane, number }, frequencyHz, key) => {
      const rounded =
        Math.round(keepWithin(frequencyHz, FREQUENCY_LIMITS) / FREQUENCY_STEP_HZ) * FREQUENCY_STEP_HZ;
      change(visitId, decide(present(), { plane, number, frequencyHz: Number(rounded.toFixed(4)) }), key);
    };
    return {
      place,
      confirm: (row) => {
        if (row.frequencyHz !== null) {
          const { plane, number, frequencyHz } = row;
          change(visitId, decide(present(), { plane, number, frequencyHz }));
        }
      },
      reject: ({ plane, number }) => change(visitId, decide(present(), { plane, number, frequencyHz: null })),
      release: ({ plane, number }) => change(visitId, release(present(), plane, number)),
      renumber: (row, to) => {
        if (row.frequencyHz === null || to === row.number) return;
        const displaced = rows.find((r) => r.plane === row.plane && r.number === to)?.frequencyHz ?? null;
        change(visitId, renumber(present(), row.plane, row.number, to, row.frequencyHz, displaced));
      },
    };
  }, [visitId, rows, change]);
}
