/**
 * The conditions that divide some swaps, weighed by those that were made.
 */
import { romTravels } from '../conditions/rom-travels.ts';
import type { DecidedSwap } from './decided-swaps.ts';
import { type ComparedSwap, entryClasses } from './entry-classes.ts';
import { type Partition, type Partitions, partitionsBy } from './partitions.ts';
import { restsOnProxy } from './rests-on-proxy.ts';
import { listPairs } from './tally.ts';
import { votesOf, type Weights, weigh } from './weigh.ts';

/** Partitions of some swaps, in the order of `weights`. */
export interface WeighedPartitions extends Weights, Pick<Partitions, 'joined'> {
  readonly partitions: readonly Partition[];
  /** Classes of entries: the swaps cannot tell those of one class apart. */
  readonly classes: number;
}

/** What a condition that rests on proxies is given beside one that does not. Source: our own. */
const shareOfProxy = 1 / 4;

/** Weighs the conditions that divide decided swaps and others that might be made. The others add conditions, and no evidence. */
export function weighPartitions(
  decided: readonly DecidedSwap[],
  others: readonly ComparedSwap[] = [],
): WeighedPartitions {
  const swaps = [...decided, ...others];
  const classes = entryClasses(swaps);
  const { partitions, joined } = partitionsBy(classes, swaps.length, listPairs(decided).names.length);
  const everyRomTravelled = decided.every(({ swap }) => romTravels(swap) === true);
  const candidates = partitions.map((partition) => {
    const isProxy = partition.conjunctions.every((one) => restsOnProxy(one, everyRomTravelled));
    return { ...partition, share: isProxy ? shareOfProxy : 1 };
  });
  return {
    partitions: candidates,
    classes: classes.length,
    joined,
    ...weigh(candidates, decided, votesOf(decided, classes)),
  };
}
