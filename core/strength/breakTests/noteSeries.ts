import { describeSpecies } from '../../wood/index.ts';
import type { BreakTestRow } from '../relation/breakTestRow.ts';

/**
 * Median strength of a series over that of green clear wood: new poles come to about 1, a series of decayed ones may come to a half (ours). A
 * pound taken for a newton is 0.22, a kilonewton for a kip 4.4.
 */
const USUAL = [0.4, 1.8] as const;

/**
 * Says what is odd about a series as a whole: species not named, arms as if they had not shortened, specimens among poles, or far
 * too strong or too weak to be poles in the units stated.
 * @param counts - rows that name no species, and cantilevers that do not state what the arm lost
 */
export function noteSeries(
  rows: readonly BreakTestRow[],
  { withoutSpecies, withoutArmLoss }: { readonly withoutSpecies: number; readonly withoutArmLoss: number },
): string[] {
  const notes: string[] = [];
  if (withoutSpecies > 0) {
    notes.push(
      `${withoutSpecies} of ${rows.length} tests name no known species and count as other: one relation over several species is the worse for it.`,
    );
  }
  if (withoutArmLoss > 0) {
    notes.push(
      `${withoutArmLoss} of ${rows.length} tests do not state by how much the arm had shortened when the pole broke: moments are taken with the whole arm. ` +
        'A pole that had bent by 8 % of its arm is told 9 % too strong, and so are poles predicted from it.',
    );
  }
  const specimens = rows.filter(({ piece }) => piece === 'specimen').length;
  if (specimens > 0) {
    notes.push(
      `${specimens} of ${rows.length} tests are of specimens cut from poles, which are stronger than poles: no relation takes both.`,
    );
  }
  const shares = rows
    .map(
      ({ species, modulusOfRupturePa }) =>
        modulusOfRupturePa / describeSpecies(species).modulusOfRuptureGreenPa.median,
    )
    .sort((a, b) => a - b);
  const median = shares[Math.floor(shares.length / 2)];
  if (median !== undefined && (median < USUAL[0] || median > USUAL[1])) {
    notes.push(
      `Half of the tests are ${median > 1 ? 'above' : 'below'} ${median.toPrecision(2)} times the strength of green clear wood of their species. ` +
        'Check the units of load, arm and girth before anything is fitted to them.',
    );
  }
  return notes;
}
