/**
 * Exact bounds on a rate (Clopper and Pearson), in the beta form that takes votes which are no whole number.
 * Source: Clopper and Pearson, Biometrika 26 (1934) 404; beta form: Brown, Cai and DasGupta, Statistical Science 16 (2001) 101.
 * Laws (test/property/exact-bounds.property.test.ts):
 * - the rate lies between its bounds, and both between 0 and 1
 * - a success more lowers no bound
 * - more confidence narrows nothing
 * - the upper bound of successes is one less the lower bound of failures
 * - at a bound, what was seen or more of it has just the probability left over
 */
import { betaQuantile } from './beta-quantile.ts';

/** Successes among independent trials. Neither need be whole; successes are at least 0 and at most the trials, trials above 0. */
export interface Tally {
  readonly successes: number;
  readonly trials: number;
}

/** The rate that the true one exceeds with this confidence (0 to 1, one-sided); 0 where nothing succeeded. */
export function exactLowerBound({ successes, trials }: Tally, confidence: number): number {
  return successes <= 0 ? 0 : betaQuantile(1 - confidence, successes, trials - successes + 1);
}

/** The rate that the true one stays below with this confidence (0 to 1, one-sided); 1 where everything succeeded. */
export function exactUpperBound({ successes, trials }: Tally, confidence: number): number {
  return successes >= trials ? 1 : betaQuantile(confidence, successes + 1, trials - successes);
}

/** The bounds, lower and upper, that hold together with this confidence (0 to 1): half of the doubt is left on either side. */
export function exactInterval(tally: Tally, confidence: number): readonly [number, number] {
  const oneSided = 1 - (1 - confidence) / 2;
  return [exactLowerBound(tally, oneSided), exactUpperBound(tally, oneSided)];
}
