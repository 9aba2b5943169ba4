import type { DecidedSwap } from './decided-swaps.ts';
import type { Truths } from './entry-classes.ts';
import { type ExactTest, fisherExact, type TwoByTwo } from './fisher-exact.ts';
import { signTest } from './sign-test.ts';

/** A condition held against the pairs of drives. Pairs with mixed results under one condition count in neither table. */
export interface Tally {
  /** Pairs tried with it only, and pairs tried without it only. */
  readonly apart: TwoByTwo;
  /** Pairs tried both ways: those that worked only with it, only without it, and those that came out alike. */
  readonly within: { readonly onlyWith: number; readonly onlyWithout: number; readonly alike: number };
  /** How often chance alone does as well: by Fisher's test of the pairs apart, or by the sign test of those tried both ways. */
  readonly test: ExactTest & { readonly of: 'apart' | 'within' };
  /** Whether all outcomes with it came out one way, and all without it the other way. */
  readonly separates: boolean;
  readonly mixed: readonly string[];
}

/** Results of one pair where a condition holds, and where it does not: bit 1 for worked, bit 2 for failed. */
interface Results {
  with: number;
  without: number;
}

const [worked, failed] = [1, 2];

/**
 * Tests a condition over pairs. A pair tried only with it, or only without, counts in Fisher's test; a pair tried both ways in the
 * sign test. No pair is in both.
 */
export function tallyPairs(truths: Truths, decided: readonly DecidedSwap[]): Tally {
  const byPair = new Map<string, Results>();
  const seen = new Set<boolean>();
  for (const [n, { pair, works }] of decided.entries()) {
    if (truths[n] === 0) continue;
    seen.add((truths[n] === 1) === works);
    const results = byPair.get(pair) ?? { with: 0, without: 0 };
    byPair.set(pair, results);
    results[truths[n] === 1 ? 'with' : 'without'] |= works ? worked : failed;
  }
  const isMixed = (results: Results): boolean => results.with === 3 || results.without === 3;
  const clear = [...byPair.values()].filter((results) => !isMixed(results));
  const count = (having: number, lacking: number): number =>
    clear.filter((results) => results.with === having && results.without === lacking).length;
  const apart: TwoByTwo = {
    ...{ withWorked: count(worked, 0), withFailed: count(failed, 0) },
    ...{ withoutWorked: count(0, worked), withoutFailed: count(0, failed) },
  };
  const within = {
    ...{ onlyWith: count(worked, failed), onlyWithout: count(failed, worked) },
    alike: count(worked, worked) + count(failed, failed),
  };
  return {
    ...{ apart, within, test: strongerTest(apart, within), separates: seen.size === 1 },
    mixed: [...byPair].flatMap(([pair, results]) => (isMixed(results) ? pair : [])),
  };
}

/** The test that could show more; where neither could, the one of more pairs. */
function strongerTest(apart: TwoByTwo, { onlyWith, onlyWithout }: Tally['within']): Tally['test'] {
  const [fisher, sign] = [fisherExact(apart), signTest(onlyWith, onlyWithout)];
  const pairsApart = Object.values(apart).reduce((sum: number, count: number) => sum + count, 0);
  const isWithin = sign.least < fisher.least || (sign.least === fisher.least && onlyWith + onlyWithout > pairsApart);
  return isWithin ? { of: 'within', ...sign } : { of: 'apart', ...fisher };
}
