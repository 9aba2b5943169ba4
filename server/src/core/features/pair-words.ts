import type { PairCount } from '../odds/count-pairs.ts';
import { rounded } from '../text/rounded.ts';

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
  return `${counted} (${shared}exact ${percent(low)}–${percent(high)} %)`;
}

/** Bounds are right to some ten digits: what lies that near to half a percent is rounded up like the half itself. */
function percent(share: number): string {
  return rounded(Number((100 * share).toFixed(8)), 0);
}
