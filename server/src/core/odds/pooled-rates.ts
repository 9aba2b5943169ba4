/**
 * Rates of groups that learn from one another: those of one parent from each other, parents from all. What is not tried much leans
 * on the rest, what is tried often stands for itself.
 *
 * The rate of a group is beta-distributed about that of its parent, with a strength that says how many trials the parent counts for;
 * that of a parent likewise about the overall rate, of which every value is as likely as the next. Both strengths are unknown, and every
 * one of a few is weighed by how well it explains all trials. Source: the beta-binomial model of Gelman et al., Bayesian Data Analysis, 3rd
 * edition (2013), section 5.3, with one more level, and a grid in place of an unbounded range of strengths.
 * Laws (test/property/pooled-rates.property.test.ts):
 * - the distribution of a rate is that of full enumeration
 * - the order of the groups changes nothing
 * - with successes and failures exchanged, every rate is one less itself
 * - a success more raises the rate of its group, a failure more lowers it
 * - however others fared, own trials outweigh them in the end
 */
import { grouped } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import type { Tally } from './exact-bounds.ts';
import { logBeta } from './regularized-beta.ts';
import { meanOfShares, quantileOfShares, type Share } from './share-mixture.ts';

/** What was tried of one group: `trials` may be 0. Groups of one parent are the more alike. */
export interface TriedGroup extends Tally {
  readonly parent: string;
}

/** What is to be expected of the rate of a group, 0 to 1. */
export interface PooledRate {
  readonly mean: number;
  /** Leaves 2.5 % of the rate's distribution out on either side. */
  readonly interval: readonly [number, number];
}

/**
 * How many trials a parent counts for. Bounded, so that neither a group stands quite alone nor all are taken to be one. Source: our
 * own; without the 1, intervals hold too seldom where families are of two kinds (`npm run bench -- --odds`).
 */
export const strengths: readonly number[] = [1, 2, 4, 8, 16, 32];

/** Rates a parent may have, and rates overall: the middles of equal parts. */
export const parentRates: readonly number[] = Array.from({ length: 24 }, (_, part) => (part + 0.5) / 24);

/** The rate of each group, in their order; of `wanted` groups alone where these are given. */
export function pooledRates(groups: readonly TriedGroup[], wanted: readonly TriedGroup[] = groups): PooledRate[] {
  const weights = parentWeights(groups, { weigh: tallyWeigher() });
  // Quantiles take most of the time, and many groups of one parent were tried alike, or never.
  const known = new Map<string, PooledRate>();
  return wanted.map((group) => {
    const name = JSON.stringify([group.parent, group.successes, group.trials]);
    const rate = known.get(name) ?? rateOf(sharesOf(group, weights.get(group.parent) ?? []));
    known.set(name, rate);
    return rate;
  });
}

/**
 * Gives the mean of one of some groups, without its interval, which takes most of the steps. For as many lists of groups as are asked
 * for: what was tried alike in several of them is weighed once.
 */
export function meanPooler(): (groups: readonly TriedGroup[], wanted: TriedGroup) => number {
  const weigh = tallyWeigher();
  return (groups, wanted) => {
    // A group of which nothing was tried tells nothing of any other.
    const telling = groups.filter((group) => group.trials > 0 || group === wanted);
    return meanOfShares(
      sharesOf(wanted, parentWeights(telling, { weigh, only: wanted.parent }).get(wanted.parent) ?? []),
    );
  };
}

function rateOf(shares: readonly Share[]): PooledRate {
  return {
    mean: meanOfShares(shares),
    interval: [quantileOfShares(0.025, shares), quantileOfShares(0.975, shares)],
  };
}

/** The distribution of a group's rate, as a mixture over strengths and rates of its parent. */
function sharesOf({ successes, trials }: TriedGroup, weights: Table): Share[] {
  return strengths.flatMap((strength, s) =>
    parentRates.map((rate, r) => ({
      weight: weights[s]?.[r] ?? 0,
      a: strength * rate + successes,
      b: strength * (1 - rate) + trials - successes,
    })),
  );
}

/** Numbers by strength of the parents over their groups, then by rate of the parent. */
type Table = readonly (readonly number[])[];

/** Gives how likely a tally is. */
type Weigh = (tally: Tally) => Table;

/**
 * How likely each strength with each rate of a parent is, given all trials; the numbers of a parent add up to 1. Of one parent alone
 * where only that is wanted.
 */
function parentWeights(
  groups: readonly TriedGroup[],
  { weigh, only }: { readonly weigh: Weigh; readonly only?: string },
): ReadonlyMap<string, Table> {
  const priors = parentPriors(strengths);
  const byParent = grouped(groups, ({ parent }) => parent);
  const names = [...byParent.keys()];
  const likelihoods = [...byParent.values()].map((own) => likelihoodOf(own, weigh));
  const weights = names.map(() => strengths.map(() => parentRates.map(() => 0)));
  // The largest exponent is taken out of every likelihood, so that none of the products below vanishes altogether.
  const peaks = strengths.map((_, s) => likelihoods.map((table) => Math.max(...(table[s] ?? []))));
  const highest = Math.max(...peaks.map((list) => sum(list)));
  for (const [s] of strengths.entries()) {
    const peak = peaks[s] ?? [];
    const scaled = likelihoods.map((table, n) => (table[s] ?? []).map((log) => Math.exp(log - (peak[n] ?? 0))));
    for (const prior of priors) {
      for (const about of prior) {
        const totals = scaled.map((list) => weighted(list, about));
        const log = totals.reduce((total, value) => total + Math.log(value), sum(peak) - highest);
        for (const [n, list] of scaled.entries()) {
          if (only !== undefined && names[n] !== only) continue;
          const factor = Math.exp(log) / (totals[n] ?? 1);
          const into = weights[n]?.[s] ?? [];
          // Most of the work of a table of odds is done here, so nothing is made anew.
          for (let r = 0; r < into.length; r++) into[r] = (into[r] ?? 0) + (list[r] ?? 0) * (about[r] ?? 0) * factor;
        }
      }
    }
  }
  return new Map(names.map((name, n) => [name, normalised(weights[n] ?? [])]));
}

/** By strength over the parents, then by overall rate: how likely each rate of a parent is. */
const parentPriors = remembered((grid: readonly number[]): readonly Table[] =>
  grid.map((strength) =>
    parentRates.map((overall) => {
      const [a, b] = [strength * overall, strength * (1 - overall)];
      const logs = parentRates.map((rate) => (a - 1) * Math.log(rate) + (b - 1) * Math.log1p(-rate));
      const highest = Math.max(...logs);
      const list = logs.map((log) => Math.exp(log - highest));
      const total = sum(list);
      return list.map((value) => value / total);
    }),
  ),
);

/** Logarithms of how likely the trials of these groups are. Most groups tried little, so that many tried as much. */
function likelihoodOf(groups: readonly TriedGroup[], weigh: Weigh): Table {
  const alike = new Map<Table, number>();
  for (const group of groups) {
    const logs = weigh(group);
    alike.set(logs, (alike.get(logs) ?? 0) + 1);
  }
  const total = strengths.map(() => parentRates.map(() => 0));
  for (const [logs, count] of alike) {
    for (const [s, list] of total.entries()) {
      const more = logs[s] ?? [];
      for (let r = 0; r < list.length; r++) list[r] = (list[r] ?? 0) + count * (more[r] ?? 0);
    }
  }
  return total;
}

/** Logarithms of how likely a tally is; the same table for the same tally. */
function tallyWeigher(): Weigh {
  const bySuccesses = new Map<number, Map<number, Table>>();
  return ({ successes, trials }) => {
    const byTrials = bySuccesses.get(successes) ?? new Map<number, Table>();
    const known = byTrials.get(trials);
    if (known) return known;
    const table = tableOf({ successes, trials });
    bySuccesses.set(successes, byTrials.set(trials, table));
    return table;
  };
}

function tableOf(tally: Tally): Table {
  return strengths.map((strength) =>
    parentRates.map((rate) => logLikelihood(tally, strength * rate, strength * (1 - rate))),
  );
}

/**
 * Natural logarithm of the chance of these successes in one given order, where the rate is distributed as Beta(a, b); `a` and `b`
 * above 0.
 */
export function logLikelihood({ successes, trials }: Tally, a: number, b: number): number {
  if (trials === 0) return 0;
  return logBeta(a + successes, b + trials - successes) - logBeta(a, b);
}

function normalised(table: Table): Table {
  const total = sum(table.map(sum));
  return table.map((list) => list.map((value) => value / total));
}

/** The sum of the products, position by position. */
function weighted(values: readonly number[], by: readonly number[]): number {
  let total = 0;
  for (let r = 0; r < values.length; r++) total += (values[r] ?? 0) * (by[r] ?? 0);
  return total;
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
