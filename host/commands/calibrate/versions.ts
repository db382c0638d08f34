import { basename } from 'node:path';
import { InputError } from '../../../core/errors.ts';
import type { CallResponse, Handlers } from '../../../core/workspace/index.ts';
import { ask } from '../ask.ts';
import { readInput, writeOutput } from '../files.ts';
import { layTable, print, printJson } from '../print.ts';
import { withWorkspace } from '../register.ts';
import { printAppraisal } from './printAppraisal.ts';
import { type RelationOptions, readSpec } from './relationOptions.ts';

type Listed = CallResponse<'calibration.overview'>['calibrations'][number];

export type PublishOptions = RelationOptions & {
  name: string;
  author: string;
  note: string;
  despite: string;
};

/** Says what is published, then keeps the relation for good as the next version of a name. */
export function runPublish(workspace: string, options: PublishOptions): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const candidate = { name: options.name, spec: readSpec(options) };
    const { leaveOut: leftOut } = options;
    printAppraisal(await ask(handlers, 'calibration.appraise', { candidate, leftOut }));
    const { label } = await ask(handlers, 'calibration.publish', {
      candidate,
      leftOut,
      name: options.name,
      author: options.author,
      note: options.note,
      despite: options.despite,
    });
    print(`Published ${label}. New results take it once it is put to use: calibrate use.`);
    return 0;
  });
}

/** Prints every calibration of a workspace. */
export function runListCalibrations(workspace: string, { json }: { json?: boolean }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const overview = await ask(handlers, 'calibration.overview', {});
    if (json) {
      printJson(overview);
      return 0;
    }
    print(
      layTable(
        ['Calibration', '', 'Author', 'Published', 'Tests', 'Results', 'Note'],
        overview.calibrations.map((calibration) => [
          calibration.label,
          calibration.calibrationId === overview.inForce.calibrationId ? 'in force' : '',
          calibration.author ?? 'built in',
          calibration.publishedAt?.slice(0, 10) ?? '',
          String(calibration.tests),
          String(calibration.results),
          [calibration.note, calibration.setAside].filter(Boolean).join(' '),
        ]),
      ),
    );
    return 0;
  });
}

/** Says what is put to use, then has new results take it. */
export function runUse(
  workspace: string,
  label: string,
  { by, reason }: { by: string; reason: string },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { calibrationId } = await findCalibration(handlers, label);
    printAppraisal(await ask(handlers, 'calibration.appraise', { calibrationId }));
    const { inForce } = await ask(handlers, 'calibration.overview', {});
    const seenInForce = inForce.calibrationId;
    await ask(handlers, 'calibration.use', { calibrationId, chosenBy: by, reason, seenInForce });
    print(
      `New results take ${label}. Results that are there stay; calibrate recompute brings them under it.`,
    );
    return 0;
  });
}

/** Writes a calibration to one JSON file. */
export function runExport(workspace: string, label: string, { out }: { out?: string }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { calibrationId } = await findCalibration(handlers, label);
    if (calibrationId === null) {
      throw new InputError(
        'calibrate.builtIn',
        `${label} is built into the program and has no file.`,
        'Export a published calibration.',
      );
    }
    const { fileName, json } = await ask(handlers, 'calibration.export', { calibrationId });
    const path = out ?? fileName;
    writeOutput(path, json);
    print(`Wrote ${path}`);
    return 0;
  });
}

/** Brings a calibration in from a file that another workspace wrote. */
export function runImportCalibration(workspace: string, path: string): Promise<number> {
  const bytes = readInput(path);
  return withWorkspace(workspace, async (handlers) => {
    const { label, isNew } = await ask(handlers, 'calibration.import', {
      fileName: basename(path),
      base64: bytes.toString('base64'),
    });
    print(isNew ? `${label} is in the workspace now.` : `${label} was there already.`);
    return 0;
  });
}

/** @throws InputError `calibration.unknown` with the labels that are there */
export async function findCalibration(handlers: Handlers, label: string): Promise<Listed> {
  const { calibrations } = await ask(handlers, 'calibration.overview', {});
  const found = calibrations.find((calibration) => calibration.label === label);
  if (found) return found;
  throw new InputError(
    'calibration.unknown',
    `There is no calibration "${label}" in this workspace.`,
    `There are: ${calibrations.map((calibration) => calibration.label).join(', ')}.`,
  );
}
