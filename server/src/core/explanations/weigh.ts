/**
 * How far to believe each hypothesis, and that none of them is right.
 * Laws (test/property/explanations.property.test.ts):
 * - the weights of all hypotheses and of none of them sum to 1
 */
import { logBeta } from '../odds/regularized-beta.ts';
import type { DecidedSwap } from './decided-swaps.ts';
import type { EntryClass, Truths } from './entry-classes.ts';

/** The share of swaps that come out against what explains them. Source: our own. */
const errorRate = 0.05;

/** What is believed at least of none of the hypotheses before any swap. Source: our own. */
const priorOfNone = 0.5;

/** A hypothesis before any swap is looked at. */
export interface Weighable {
  /** What it says of the decided swaps first, in their order; what comes after is not looked at. */
  readonly truths: Truths;
  /** Entries it takes; each more makes it a quarter as likely beforehand. */
  readonly size: number;
  /** What it gets of its part, 0 to 1. The rest goes to none of them. */
  readonly share: number;
}

/** What is believed after them. */
export interface Weight {
  /** 0 to 1. */
  readonly weight: number;
  /** How far, if it is right, it is because swaps work where the condition holds and not because they fail there; 0 to 1. */
  readonly worksWhereItHolds: number;
  /** The chance that a swap works of which its condition is not known, 0 to 1. */
  readonly rateWhereNotKnown: number;
}

/** What is believed of hypotheses and of none of them. */
export interface Weights {
  /** In the order of the hypotheses. */
  readonly weights: readonly Weight[];
  /** How far to believe that none is right, 0 to 1. */
  readonly none: number;
  /** The chance that a swap works if none is right, 0 to 1. */
  readonly rateOfNone: number;
}

/** The chance that a swap works where a condition holds, if the condition is why: all but the error rate. */
export const chanceWhereRight = 1 - errorRate;

/**
 * Weighs hypotheses. Each says that swaps work where it holds and fail elsewhere, or the reverse, both as likely beforehand, but for the
 * error rate; none of them, that swaps work at some rate of which nothing is known. So it is for outcomes whose condition is not known.
 */
export function weigh(
  hypotheses: readonly Weighable[],
  decided: readonly DecidedSwap[],
  votes: readonly number[],
): Weights {
  const bySize = new Map<number, number>();
  for (const { size } of hypotheses) bySize.set(size, (bySize.get(size) ?? 0) + 1);
  const sizes = [...bySize.keys()].reduce((sum, size) => sum + 4 ** -size, 0);
  const priors = hypotheses.map(
    ({ size, share }) => ((1 - priorOfNone) * share * 4 ** -size) / sizes / (bySize.get(size) ?? 1),
  );
  const sides = hypotheses.map(({ truths }) => logLikelihoods(truths, decided, votes));
  const logs = sides.map(({ works, fails }, n) => Math.log((priors[n] ?? 0) / 2) + logSum([works, fails]));
  const priorOfAll = priors.reduce((sum, prior) => sum + prior, 0);
  const votesThat = (worked: boolean): number =>
    decided.reduce((sum, { works }, n) => sum + (works === worked ? (votes[n] ?? 0) : 0), 0);
  const [worked, failed] = [votesThat(true), votesThat(false)];
  const logNone = Math.log(1 - priorOfAll) + logRate(worked, failed);
  const logAll = logSum([...logs, logNone]);
  return {
    weights: sides.map(({ works, fails, rateWhereNotKnown }, n) => ({
      weight: Math.exp((logs[n] ?? 0) - logAll),
      worksWhereItHolds: 1 / (1 + Math.exp(fails - works)),
      rateWhereNotKnown,
    })),
    none: Math.exp(logNone - logAll),
    rateOfNone: nextRate(worked, failed),
  };
}

/**
 * The vote of each decided outcome: those of one pair that no comparison tells apart, whichever way round, share one.
 */
export function votesOf(decided: readonly DecidedSwap[], classes: readonly EntryClass[]): readonly number[] {
  const compared = classes.filter(({ entries: [first] }) => first.atom.test !== 'side');
  const names = decided.map(({ pair }, n) => `${pair} ${compared.map(({ truths }) => truths[n]).join()}`);
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return names.map((name) => 1 / (counts.get(name) ?? 1));
}

function logLikelihoods(
  truths: Truths,
  decided: readonly DecidedSwap[],
  votes: readonly number[],
): { readonly works: number; readonly fails: number; readonly rateWhereNotKnown: number } {
  let [agreeing, opposing, unknownWorked, unknownFailed] = [0, 0, 0, 0];
  for (let n = 0; n < decided.length; n++) {
    const [works, vote] = [decided[n]?.works === true, votes[n] ?? 0];
    if (truths[n] === 0) {
      if (works) unknownWorked += vote;
      else unknownFailed += vote;
    } else if ((truths[n] === 1) === works) agreeing += vote;
    else opposing += vote;
  }
  const [right, wrong] = [Math.log(chanceWhereRight), Math.log(errorRate)];
  const unknown = logRate(unknownWorked, unknownFailed);
  return {
    works: agreeing * right + opposing * wrong + unknown,
    fails: opposing * right + agreeing * wrong + unknown,
    rateWhereNotKnown: nextRate(unknownWorked, unknownFailed),
  };
}

/** The chance of so many results at a rate of which nothing is known: every rate from 0 to 1 counts alike. */
function logRate(worked: number, failed: number): number {
  return logBeta(worked + 1, failed + 1);
}

/** The chance that the next one works at such a rate, after so many. Source: Laplace's rule of succession. */
function nextRate(worked: number, failed: number): number {
  return (worked + 1) / (worked + failed + 2);
}

function logSum(logs: readonly number[]): number {
  const largest = Math.max(...logs);
  return largest + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - largest), 0));
}
