import { formatChance, formatSignificant, namePlane } from '../../words/index.ts';
import type { PickRow } from '../pickRows.ts';
import type { Explanation } from './explanation.ts';

/** Numbers in a row of picks whose way is told. */
export type PickNumber = 'frequency' | 'predicted' | 'residual' | 'damping';

const DIGITS = 4;
const IDENTIFICATION =
  'Steiglitz & McBride 1965; fused over strikes by DerSimonian & Laird 1986; core/modal, README "How the numbers are made"';

/** How a number of one pick came about; null where the row has none. */
export function explainPick(name: PickNumber, row: PickRow): Explanation | null {
  const mode = `mode ${row.number} of ${namePlane(row.plane, row.azimuthDeg)}`;
  const measuredHz = row.usedHz ?? row.frequencyHz;
  const measured: readonly [string, string] = [
    'measured',
    measuredHz === null
      ? 'none'
      : `${formatSignificant(measuredHz, DIGITS)} ± ${formatSignificant(row.sdHz, 2)} Hz`,
  ];
  const predicted: readonly [string, string] = [
    'predicted',
    row.predictedHz === null ? 'none' : `${formatSignificant(row.predictedHz, DIGITS)} Hz`,
  ];
  switch (name) {
    case 'frequency':
      return measuredHz === null
        ? null
        : {
            title: `Frequency of ${mode}`,
            value: measured[1],
            formula:
              row.state === 'confirmed'
                ? 'fitted close to where the analyst set it; left there where no strike shows a mode'
                : 'free decay of each strike as a rational function; strikes and planes weighed by their variances',
            inputs: [
              ['strikes that show it', row.strikes === null ? 'unknown' : String(row.strikes)],
              ...(row.reason === '' ? [] : [['remark', row.reason] as const]),
            ],
            source: IDENTIFICATION,
          };
    case 'damping':
      return row.dampingRatio === null
        ? null
        : {
            title: `Damping ratio of ${mode}`,
            value: `${formatSignificant(100 * row.dampingRatio, 3)} %`,
            formula: 'decay rate of the fitted pole over its circular frequency',
            inputs: [measured],
            source: IDENTIFICATION,
          };
    case 'predicted':
      return row.predictedHz === null
        ? null
        : {
            title: `Frequency that the fitted pole has, ${mode}`,
            value: predicted[1],
            formula:
              'eigenfrequency of the tapered stem on its root at the fitted E and k_θ, inputs as the fit moved them',
            inputs: [measured],
            source: 'Timoshenko 1921, Ritz method; docs/physics.md, "Frequencies"',
          };
    case 'residual':
      return row.residual === null
        ? null
        : {
            title: `How far off ${mode} is`,
            value: `${formatSignificant(row.residual, 2)} standard deviations`,
            formula:
              '(ln measured − ln predicted) / their joint standard deviation, departures of real poles included',
            inputs: [
              measured,
              predicted,
              ['chance that it does not belong', formatChance(row.oddChance, 'unknown')],
            ],
            source: 'docs/physics.md, "Likelihood" and "How real poles depart from the model’s"',
          };
  }
}
