/**
 * Wilson's score interval of a rate.
 * Source: Wilson, Journal of the American Statistical Association 22 (1927) 209.
 * Laws (test/property/score-intervals.property.test.ts):
 * - its ends are where the rate lies as many standard errors away as the confidence asks for
 */
import type { Tally } from './exact-bounds.ts';

/** Where the standard normal distribution leaves 2.5 % on either side. Source: scipy 1.17.1, scipy.stats.norm.ppf(0.975). */
const deviate = 1.959963984540054;

/** Bounds, lower and upper, that hold together at about 95 %. */
export function wilsonInterval({ successes, trials }: Tally): readonly [number, number] {
  const rate = successes / trials;
  const share = deviate ** 2 / trials;
  const middle = rate + share / 2;
  const reach = deviate * Math.sqrt((rate * (1 - rate) + share / 4) / trials);
  // Where nothing or everything succeeded an end is 0 or 1, but for rounding.
  const low = successes <= 0 ? 0 : (middle - reach) / (1 + share);
  const high = successes >= trials ? 1 : (middle + reach) / (1 + share);
  return [Math.max(0, low), Math.min(1, high)];
}
