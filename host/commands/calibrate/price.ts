import { formatNumber } from '../../../core/formatNumbers.ts';
import type { CallResponse } from '../../../core/workspace/index.ts';
import { ask } from '../ask.ts';
import { layTable, percent, print, printJson } from '../print.ts';
import { withWorkspace } from '../register.ts';
import { type RelationOptions, readSpec } from './relationOptions.ts';

export type PriceOptions = RelationOptions & {
  missed: number;
  needless: number;
  belowShare: number;
  belowMpa?: number;
  weakShare?: number;
  json?: boolean;
};

const PA_PER_MPA = 1e6;
/** Lines that a reader takes in; the whole curve is in the JSON. */
const LINES_SHOWN = 20;

/** Prints what thresholds on the chance of being weak cost. */
export function runPrice(workspace: string, options: PriceOptions): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const price = await ask(handlers, 'calibration.price', {
      candidate: { name: 'relation', spec: readSpec(options) },
      leftOut: options.leaveOut,
      weakBelow:
        options.belowMpa === undefined
          ? { kind: 'fibreStress', factor: options.belowShare }
          : { kind: 'stress', stressPa: options.belowMpa * PA_PER_MPA },
      costs: { missedWeak: options.missed, needlessReplacement: options.needless },
      shareWeak: options.weakShare ?? null,
    });
    if (options.json) printJson(price);
    else describe(price);
    return 0;
  });
}

function describe({ prices, roc, limits, unpriced }: CallResponse<'calibration.price'>): void {
  print(`${prices.weak} weak of ${prices.tests} tests.`);
  for (const { species, stressPa } of limits) {
    print(`Weak below ${formatNumber(stressPa / PA_PER_MPA)} MPa at ground line: ${species}`);
  }
  const stride = Math.ceil(prices.prices.length / LINES_SHOWN);
  print(
    layTable(
      ['Replace from', 'Missed', 'Needless', 'Cost a pole', '95 % interval'],
      prices.prices
        .filter((_, i) => i % stride === 0 || i === prices.prices.length - 1)
        .map(({ threshold, missed, needless, cost }) => [
          sayThreshold(threshold),
          String(missed.count),
          String(needless.count),
          formatNumber(cost.value),
          cost.interval
            ? `${formatNumber(cost.interval.low)} to ${formatNumber(cost.interval.high)}`
            : 'unknown',
        ]),
    ),
  );
  if (prices.best) {
    const { threshold, cost, correctedCost } = prices.best;
    print(
      `Least cost ${formatNumber(cost)} from ${sayThreshold(threshold)} on; corrected for choosing by the same tests ${formatNumber(correctedCost)}.`,
    );
  }
  print(`By the costs alone: from ${percent(prices.thresholdByCosts, 1)} on.`);
  if (roc) print(`Area under the receiver operating curve: ${roc.area.toFixed(2)}; 0.5 is chance.`);
  for (const statement of [...prices.statements, ...(roc?.statements ?? [])]) print(statement);
  if (unpriced.length > 0) print(`${unpriced.length} tests are not priced. ${unpriced[0]!.reason}`);
}

/** Chances below 1 % with a digit more: many poles lie there. */
function sayThreshold(threshold: number | null): string {
  return threshold === null ? 'never' : percent(threshold, threshold < 0.01 ? 2 : 1);
}
