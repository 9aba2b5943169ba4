/**
 * What divides the swaps of a family that worked from those that failed: every condition of a few entries, how well it fits, how often
 * chance alone fits as well, and how far to believe it.
 * Laws (test/property/explanations.property.test.ts):
 * - the order of the outcomes changes nothing
 * - worked and failed exchanged keep every p
 * - a hypothesis that separates has no outcome against it, and the smallest p there could be
 */
import { byCodeUnits } from '../text/by-code-units.ts';
import { type Claim, Claims } from './claims-of.ts';
import type { DecidedSwap } from './decided-swaps.ts';
import { adjustReachable } from './many-tests.ts';
import { listPairs, type Tally, tallyPairs } from './tally.ts';
import { weighPartitions } from './weigh-partitions.ts';

/** A way to tell swaps that work from others. */
export interface Hypothesis {
  readonly claim: Claim;
  /** Claims of as few entries that say the same of every decided outcome. */
  readonly equals: readonly Claim[];
  readonly tally: Tally;
  /** p adjusted for all that were looked at; undefined where it could not have reached the threshold whatever came of the swaps. */
  readonly adjusted: number | undefined;
  /** How far it is to be believed, 0 to 1. */
  readonly weight: number;
}

/** All hypotheses about some swaps, and that none is right. */
export interface Explanations {
  /** Those to be believed most first; of equal ones those of fewest entries. */
  readonly hypotheses: readonly Hypothesis[];
  /** How far to believe that none of them is right, 0 to 1. */
  readonly none: number;
  /** Classes of entries: the swaps cannot tell those of one class apart. */
  readonly classes: number;
  /** How many of the classes were joined in conditions of two and of three entries; those of three are absent for few pairs. */
  readonly joined: ReadonlyMap<number, number>;
}

/** Explains decided swaps of one family. There are no hypotheses where all came out alike. */
export function explainSwaps(swaps: readonly DecidedSwap[]): Explanations {
  const decided = [...swaps].sort((a, b) => byCodeUnits(a.outcome, b.outcome));
  const isOpen = decided.some(({ works }) => works) && decided.some(({ works }) => !works);
  if (!isOpen) return { hypotheses: [], none: 1, classes: 0, joined: new Map() };
  const { partitions, weights, none, classes, joined } = weighPartitions(decided);
  const pairs = listPairs(decided);
  const tallies = partitions.map(({ truths }) => tallyPairs(truths, decided, pairs));
  const adjusted = adjustReachable(tallies.map(({ test }) => test));
  const hypotheses = partitions.flatMap((partition, n): Hypothesis[] => {
    const [weight, tally] = [weights[n], tallies[n]];
    if (!weight || !tally) return [];
    const claims = new Claims(partition, weight.worksWhereItHolds >= 0.5);
    return [
      {
        get claim() {
          return claims.first;
        },
        get equals() {
          return claims.equals;
        },
        ...{ tally, adjusted: adjusted[n], weight: weight.weight },
      },
    ];
  });
  return { hypotheses: hypotheses.sort((a, b) => b.weight - a.weight), none, classes, joined };
}
