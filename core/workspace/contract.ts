import type { z } from 'zod';
import { calibrationCalls } from './contract/calibrationCalls.ts';
import { careCalls } from './contract/careCalls.ts';
import { choiceCalls } from './contract/choiceCalls.ts';
import { classroomCalls } from './contract/classroomCalls.ts';
import { fleetCalls } from './contract/fleetCalls.ts';
import { historyCalls } from './contract/historyCalls.ts';
import { intakeCalls } from './contract/intakeCalls.ts';
import { recordingCalls } from './contract/recordingCalls.ts';
import { registerCalls, type registerQuerySchema, type registerRowSchema } from './contract/registerCalls.ts';
import { reportCalls } from './contract/reportCalls.ts';
import type { rulingSchema } from './contract/ruling.ts';
import { rulingCalls } from './contract/rulingCalls.ts';
import { shelfCalls } from './contract/shelfCalls.ts';
import { type benchSchema, visitCalls } from './contract/visitCalls.ts';

export { askAboutComma } from '../askAboutComma.ts';
export { FAULTS, type FaultId, QUIZ_FAULTS } from '../classroom/index.ts';
export { collectAdvice } from '../collectAdvice.ts';
export { collectFindings } from '../collectFindings.ts';
export {
  displayUnitOf,
  formatChance,
  formatCompared,
  formatDifference,
  formatEstimate,
  formatFigure,
  formatMedian,
  formatShare,
  writeMinus,
} from '../formatNumbers.ts';
export {
  type Answers,
  type Entry,
  fromSi,
  QUANTITIES,
  toSi,
  UNITS,
  type UnitId,
  type UnitSystem,
} from '../intake/index.ts';
export { isGroundLineInspected } from '../isGroundLineInspected.ts';
export { nameAzimuth } from '../nameAzimuth.ts';
export { nameFinding } from '../nameFinding.ts';
export { namePlane } from '../namePlane.ts';
export { Z_OF_90_PERCENT } from '../ninetyPercent.ts';
export { rangeOfPrior } from '../rangeOfPrior.ts';
export { deepestSettingM, PRIOR_LIMITS, SOILS, SPECIES } from '../recording/visitFile.ts';
export { tellUninspected } from '../tellUninspected.ts';
export { tellWindSource } from '../tellWindSource.ts';
export { type RegionRing, traceRegions } from '../traceRegions.ts';
export { WINDOW_COMMANDS, type WindowCommandId } from '../windowCommands.ts';
export { nameChange, tellDifferences } from './calibration/tellDifferences.ts';
export { REGISTER_NOTICE } from './contract/registerCalls.ts';
export { DECISIONS } from './contract/ruling.ts';
export { SHELF_CHANGED } from './contract/shelfCalls.ts';

/**
 * Every call that a window or the command line may make: name -> request and response schema.
 * The bridge of Electron, the loopback host and their types all derive from this one map. One file a topic.
 */
export const contract = {
  ...registerCalls,
  ...visitCalls,
  ...historyCalls,
  ...rulingCalls,
  ...reportCalls,
  ...recordingCalls,
  ...choiceCalls,
  ...classroomCalls,
  ...intakeCalls,
  ...shelfCalls,
  ...calibrationCalls,
  ...careCalls,
  ...fleetCalls,
} as const satisfies Record<string, { request: z.ZodType; response: z.ZodType }>;

export type CallName = keyof typeof contract;
export type CallRequest<N extends CallName> = z.input<(typeof contract)[N]['request']>;
export type CallResponse<N extends CallName> = z.output<(typeof contract)[N]['response']>;
export type CallAnswer<N extends CallName> =
  | {
      ok: true;
      value: CallResponse<N>;
      /** Entries of the trail that the call added; left out where it added none. */
      wrote?: number[];
    }
  | { ok: false; code: string; message: string; hint: string };

export type Ruling = z.infer<typeof rulingSchema>;
export type RegisterRow = z.infer<typeof registerRowSchema>;
export type RegisterQuery = z.infer<typeof registerQuerySchema>;
export type Bench = z.infer<typeof benchSchema>;
