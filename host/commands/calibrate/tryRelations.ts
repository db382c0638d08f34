import { formatNumber } from '../../../core/formatNumbers.ts';
import type { CallResponse } from '../../../core/workspace/index.ts';
import { ask } from '../ask.ts';
import { layTable, percent, print, printJson } from '../print.ts';
import { withWorkspace } from '../register.ts';
import { type RelationOptions, readCandidates, readSpec } from './relationOptions.ts';

type Tried = CallResponse<'calibration.tryRelations'>;
type Judged = NonNullable<Tried['relations'][number]['judged']>;

const PA_PER_MPA = 1e6;

export type TryOptions = RelationOptions & { candidates?: string; json?: boolean };

/** Fits candidate relations to the kept break tests and judges them side by side. @returns 1 where one could not be fitted */
export function runTry(workspace: string, options: TryOptions): Promise<number> {
  const candidates = options.candidates
    ? readCandidates(options.candidates)
    : [{ name: 'relation', spec: readSpec(options) }];
  return withWorkspace(workspace, async (handlers) => {
    const tried = await ask(handlers, 'calibration.tryRelations', { candidates, leftOut: options.leaveOut });
    if (options.json) printJson(tried);
    else describe(tried);
    return tried.relations.some(({ problem }) => problem) ? 1 : 0;
  });
}

function describe({ relations, commonTests, unused }: Tried): void {
  print(`${commonTests} tests that all can use; ${unused.length} lack what some relation needs.`);
  print(
    layTable(
      ['Relation', 'R2', 'Standard error', 'Error, one left out', 'Error, in parts', 'Bias', 'Inside 90 %'],
      relations.map(({ name, judged, problem }) => [
        name,
        ...(judged ? figuresOf(judged) : refusal(problem!.message)),
      ]),
    ),
  );
  for (const { name, judged } of relations) {
    if (!judged) continue;
    print(`\n${name}: ${judged.about}`);
    print(`  ${judged.formula}`);
    for (const { label, unit, value, low, high } of judged.terms) {
      print(`  ${label}: ${formatNumber(value)} (${formatNumber(low)} to ${formatNumber(high)}) ${unit}`);
    }
    for (const { label, unit, min, max } of judged.range) {
      print(`  tested over ${label}: ${formatNumber(min)} to ${formatNumber(max)} ${unit}`.trimEnd());
    }
  }
}

function figuresOf({ rSquared, standardError, standardErrorUnit, leaveOneOut, folds }: Judged): string[] {
  return [
    rSquared.toFixed(2),
    standardErrorUnit === 'ln'
      ? percent(standardError, 1)
      : `${formatNumber(standardError / PA_PER_MPA)} MPa`,
    percent(leaveOneOut.rootMeanSquareShare, 1),
    percent(folds.rootMeanSquareShare, 1),
    percent(leaveOneOut.biasShare, 1),
    percent(leaveOneOut.insideInterval),
  ];
}

function refusal(message: string): string[] {
  return [message, '', '', '', '', ''];
}
