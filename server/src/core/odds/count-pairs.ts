/**
 * Counts trials by pair of drives.
 * Laws (test/property/count-pairs.property.test.ts):
 * - the order of the trials changes nothing
 * - a pair has one vote, whichever way round and however often it was tried
 * - independent pairs are at most the pairs, and at most half the drives
 * - where no two pairs share a drive, all are independent
 */
import { pairName } from '../verdicts/pair-name.ts';
import type { Tally } from './exact-bounds.ts';
import { maximumMatching } from './maximum-matching.ts';

/** One try of two drives, and whether it came out as the question has it. */
export interface Trial {
  readonly drives: readonly [string, string];
  readonly succeeded: boolean;
}

/** How the pairs of some trials voted. */
export interface PairVotes {
  /** Pairs of drives, whichever of the two was the patient. */
  readonly pairs: number;
  /** Sum over the pairs of the share of their trials that succeeded: 0 to `pairs`, seldom whole. */
  readonly votes: number;
}

/** What the trials of a question come to. */
export interface PairCount extends PairVotes {
  /** Drives that took part. */
  readonly drives: number;
  /** The most pairs of which no two share a drive: only these are independent trials. */
  readonly independentPairs: number;
}

/** A pair of drives with what came of its trials. */
export interface TriedPair {
  readonly drives: readonly [string, string];
  readonly tried: number;
  readonly succeeded: number;
}

/** Counts pairs of different drives. */
export function countPairs(trials: Iterable<Trial>): PairCount {
  const pairs = pairsOf(trials);
  const drives = new Set(pairs.flatMap((pair) => pair.drives)).size;
  // Where no drive was in two pairs there is nothing to choose among.
  const isShared = drives < 2 * pairs.length;
  const independentPairs = isShared ? maximumMatching(pairs.map((pair) => pair.drives)).length : pairs.length;
  return { ...votesOf(pairs), drives, independentPairs };
}

/** The votes alone, for places where no bound is drawn from them: finding independent pairs takes much longer. */
export function countVotes(trials: Iterable<Trial>): PairVotes {
  return votesOf(pairsOf(trials));
}

/** The pairs of some trials, each once, in the order in which they first come. */
export function pairsOf(trials: Iterable<Trial>): readonly TriedPair[] {
  const byPair = new Map<string, { drives: readonly [string, string]; tried: number; succeeded: number }>();
  for (const { drives, succeeded } of trials) {
    const name = pairName(...drives);
    const pair = byPair.get(name) ?? { drives, tried: 0, succeeded: 0 };
    pair.tried++;
    if (succeeded) pair.succeeded++;
    byPair.set(name, pair);
  }
  return [...byPair.values()];
}

function votesOf(pairs: readonly TriedPair[]): PairVotes {
  return { pairs: pairs.length, votes: sumOf(pairs.map(({ tried, succeeded }) => succeeded / tried)) };
}

/** The trials as if only independent ones had been made, at the rate of all: k · n′ / n successes of n′. At least one pair is needed. */
export function independentTally({ pairs, votes, independentPairs }: PairCount): Tally {
  return { successes: (votes * independentPairs) / pairs, trials: independentPairs };
}

/** Added from the smallest up, so that the sum does not depend on the order. */
function sumOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b).reduce((sum, value) => sum + value, 0);
}
