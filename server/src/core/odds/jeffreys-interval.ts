/**
 * The interval of a rate with equal tails of its distribution after the trials, where before them Jeffreys' distribution was assumed.
 * Source: Brown, Cai and DasGupta, Statistical Science 16 (2001) 101, who set the ends to 0 and 1 where nothing or everything succeeded.
 * Laws (test/property/score-intervals.property.test.ts):
 * - it lies within the exact interval
 */
import { betaQuantile } from './beta-quantile.ts';
import type { Tally } from './exact-bounds.ts';

/** Bounds, lower and upper, that hold together with this probability (0 to 1). */
export function jeffreysInterval({ successes, trials }: Tally, confidence: number): readonly [number, number] {
  const [a, b] = [successes + 0.5, trials - successes + 0.5];
  const tail = (1 - confidence) / 2;
  return [successes <= 0 ? 0 : betaQuantile(tail, a, b), successes >= trials ? 1 : betaQuantile(1 - tail, a, b)];
}
