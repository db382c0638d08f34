import { setTimeout } from 'node:timers/promises';
import { CAUTIONS } from '../../../core/cautions.ts';
import { InputError } from '../../../core/errors.ts';
import { formatChance, formatCompared, formatDifference } from '../../../core/formatNumbers.ts';
import { type CallResponse, nameChange, tellDifferences } from '../../../core/workspace/index.ts';
import { formatCautions } from '../../formatResult.ts';
import { startProgress } from '../../progress.ts';
import { ask } from '../ask.ts';
import { layTable, print, printJson } from '../print.ts';
import { withWorkspace } from '../register.ts';
import { findCalibration } from './versions.ts';

type Differences = CallResponse<'calibration.differences'>;
type Progress = CallResponse<'calibration.recomputeProgress'>;

const LOOK_EVERY_MS = 50;
const KILO = { scale: 1e3, symbol: '' };

/**
 * Brings the results of a workspace under a calibration, with progress; an interrupt (Ctrl-C) cancels it.
 * @returns 1 where it was cancelled or failed; nothing was stored then
 */
export function runRecompute(
  workspace: string,
  label: string,
  { by, json }: { by: string; json?: boolean },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { calibrationId } = await findCalibration(handlers, label);
    let progress: Progress = await ask(handlers, 'calibration.recompute', { calibrationId, askedBy: by });
    const cancel = () => void ask(handlers, 'calibration.cancelRecompute', {});
    process.once('SIGINT', cancel);
    let bar: ReturnType<typeof startProgress> | null = null;
    while (progress.state === 'running') {
      await setTimeout(LOOK_EVERY_MS);
      progress = await ask(handlers, 'calibration.recomputeProgress', {});
      if (progress.total > 0) bar ??= startProgress('Recomputing results', progress.total);
      bar?.moveTo(progress.done);
    }
    bar?.stop();
    process.off('SIGINT', cancel);
    if (progress.state !== 'completed') {
      print(
        progress.state === 'cancelled'
          ? 'Cancelled; nothing was stored.'
          : `Failed; nothing was stored. ${progress.problem}`,
      );
      return 1;
    }
    const differences = await ask(handlers, 'calibration.differences', {
      recomputeId: progress.recomputeId!,
    });
    if (json) printJson(differences);
    else summarise(differences);
    return 0;
  });
}

export type DifferencesOptions = { all?: boolean; recompute?: number; limit: number; json?: boolean };

/** Prints what a recompute changed. */
export function runDifferences(workspace: string, options: DifferencesOptions): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { recomputes } = await ask(handlers, 'calibration.overview', {});
    const recomputeId = options.recompute ?? recomputes[0]?.recomputeId;
    if (recomputeId === undefined) {
      throw new InputError(
        'recompute.none',
        'Nothing was recomputed in this workspace yet.',
        'Recompute it under another calibration: calibrate recompute.',
      );
    }
    const differences = await ask(handlers, 'calibration.differences', {
      recomputeId,
      only: options.all ? 'all' : 'crossed',
      limit: options.limit,
    });
    if (options.json) printJson(differences);
    else {
      summarise(differences);
      if (differences.rows.length > 0) print(`\n${layDifferences(differences)}`);
      for (const { poleId, date, reasons } of differences.rows) {
        print(`\n${poleId}, visit of ${date}:`);
        for (const reason of reasons) print(`  ${reason}`);
      }
      print(`\n${formatCautions(CAUTIONS)}`);
    }
    return 0;
  });
}

function summarise(differences: Differences): void {
  for (const sentence of tellDifferences(differences)) print(sentence);
  for (const { message } of differences.left.failed) print(`  ${message}`);
}

function layDifferences({ rows }: Differences): string {
  const capacity = ({ capacityNm }: Differences['rows'][number]['before']) =>
    capacityNm ? formatCompared(capacityNm, KILO) : 'none';
  return layTable(
    [
      'Pole',
      'Visit',
      'What changes',
      'Before, kN·m (90 %)',
      'Now, kN·m (90 %)',
      'Change',
      'Falls short, before',
      'now',
    ],
    rows.map((row) => [
      row.poleId,
      row.date,
      nameChange(row),
      capacity(row.before),
      capacity(row.after),
      formatDifference(row.capacityRatio === null ? null : row.capacityRatio - 1),
      formatChance(row.before.chanceBelow, 'none'),
      formatChance(row.after.chanceBelow, 'none'),
    ]),
  );
}
