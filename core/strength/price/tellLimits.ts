import normal from '@stdlib/stats-base-dists-normal';
import { exactShare } from './exactShare.ts';
import type { JudgedTest } from './judgedTest.ts';

/**
 * Fewer weak poles than this: even where a threshold misses none of them, more than three in ten weak poles may be
 * missed (95 % limit of 0 in 10: 31 %). Ours.
 */
export const FEW_WEAK = 10;

/** Chances and breaks that disagree by more than this are said to: two-sided 5 %. */
const DISAGREEMENT_Z = 1.96;

/** What these tests cannot say, in plain sentences; empty where there are enough of both kinds. */
export function tellLimits(
  tests: readonly JudgedTest[],
  { level, isIndependent, sawTheTests }: { level: number; isIndependent: boolean; sawTheTests: boolean },
): string[] {
  const weak = tests.filter(({ isWeak }) => isWeak).length;
  const said: string[] = [];
  if (sawTheTests) {
    said.push(
      'The chances come from a relation that was fitted to these same tests: errors look smaller than they are. Use cross-validated predictions.',
    );
  }
  said.push(
    ...tellFew('weak', weak, tests.length, level),
    ...tellFew('sound', tests.length - weak, tests.length, level),
  );
  if (!isIndependent) {
    said.push(
      'Some poles were tested more than once: exact limits of shares are left out, intervals draw whole poles.',
    );
  }
  const disagreement = tellDisagreement(tests, weak);
  if (disagreement !== null) said.push(disagreement);
  if (weak > 0 && weak < tests.length) {
    said.push(
      'Limits are those of a threshold set beforehand; of one chosen from these tests they are too narrow.',
    );
  }
  return said;
}

function tellFew(kind: 'weak' | 'sound', count: number, tests: number, level: number): string[] {
  if (count >= FEW_WEAK) return [];
  const wrong = kind === 'weak' ? 'missed' : 'replaced needlessly';
  if (count === 0) {
    return [
      `None of ${tests} tests is ${kind}: nothing can be said of how many ${kind} poles would be ${wrong}.`,
    ];
  }
  const limit = exactShare(0, count, level)!.high;
  return [
    `Only ${count} of ${tests} tests ${count === 1 ? 'is' : 'are'} ${kind}, fewer than ${FEW_WEAK}. A threshold that gets all of them right ` +
      `may still leave up to ${Math.round(100 * limit)} % of ${kind} poles ${wrong} (${Math.round(100 * level)} % limit): ` +
      'a best threshold read from these tests is chance as much as knowledge.',
  ];
}

/**
 * Weak poles seen against the sum of their chances, over its standard deviation if the chances hold.
 * Source: Spiegelhalter 1986, Statistics in Medicine 5(5) 421-433 (from memory), its simplest form.
 */
function tellDisagreement(tests: readonly JudgedTest[], weak: number): string | null {
  const expected = tests.reduce((sum, { chanceBelow }) => sum + chanceBelow, 0);
  const variance = tests.reduce((sum, { chanceBelow: p }) => sum + p * (1 - p), 0);
  if (variance === 0 && weak === expected) return null;
  const z = (weak - expected) / Math.sqrt(variance);
  if (!(Math.abs(z) > DISAGREEMENT_Z)) return null;
  const odds = 2 * normal.cdf(-Math.abs(z), 0, 1);
  return (
    `The chances add up to ${expected.toFixed(1)} weak poles and ${weak} were: by chance that happens in ` +
    `${odds < 0.001 ? 'less than 0.1' : (100 * odds).toFixed(1)} % of series. Chances are too ${z > 0 ? 'low' : 'high'} here, so the threshold that follows ` +
    'from costs alone is off.'
  );
}
