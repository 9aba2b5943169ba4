import type { PairCount } from '../odds/count-pairs.ts';
import { rounded } from '../text/rounded.ts';
import { wholePercent } from '../text/whole-percent.ts';

/**
 * Pairs and their votes in a few words, with what came of them: "9 of 11 pairs worked (exact 48–98 %)"; where pairs share drives, how
 * many do not. `said` is the verb for one pair and for several; `exact` an interval, 0 to 1.
 */
export function pairWords(
  { pairs, votes, drives, independentPairs }: PairCount,
  said: readonly [one: string, several: string],
  [low, high]: readonly [number, number],
): string {
  const shared = independentPairs < pairs ? `${drives} drives, ${independentPairs} independent; ` : '';
  const counted = `${rounded(votes, 2)} of ${pairs} ${pairs === 1 ? `pair ${said[0]}` : `pairs ${said[1]}`}`;
  return `${counted} (${shared}exact ${wholePercent(low)}–${wholePercent(high)} %)`;
}
