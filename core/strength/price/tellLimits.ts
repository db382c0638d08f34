import { exactShare } from './exactShare.ts';
import type { JudgedTest } from './judgedTest.ts';
import { oddsOfCount } from './oddsOfCount.ts';

/**
 * Fewer weak poles than this: even where a threshold misses none of them, more than three in ten weak poles may be
 * missed (95 % limit of 0 in 10: 31 %). Ours.
 */
export const FEW_WEAK = 10;

/** Chances and breaks that would disagree as much in fewer series than this are said to. */
const DISAGREEMENT_ODDS = 0.05;

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

/** Weak poles seen against what their chances add up to; null where the two go together. */
function tellDisagreement(tests: readonly JudgedTest[], weak: number): string | null {
  const chances = tests.map(({ chanceBelow }) => chanceBelow);
  const odds = oddsOfCount(chances, weak);
  if (odds >= DISAGREEMENT_ODDS) return null;
  const expected = chances.reduce((sum, chance) => sum + chance, 0);
  return (
    `The chances add up to ${expected.toFixed(1)} weak poles and ${weak} were: by chance one so far off comes in ` +
    `${odds < 0.001 ? 'less than 0.1' : (100 * odds).toFixed(1)} % of series. Chances are too ${weak > expected ? 'low' : 'high'} here, so the threshold that ` +
    'follows from costs alone is off.'
  );
}
