/**
 * Mixtures of beta distributions.
 * Laws (test/property/pooled-rates.property.test.ts):
 * - below a quantile of a mixture lies as much of it as was asked for
 */
import { logBeta, regularizedBeta } from './regularized-beta.ts';

/** One part of a mixture: Beta(a, b), `a` and `b` above 0; the weights of a mixture add up to 1. */
export interface Share {
  readonly weight: number;
  readonly a: number;
  readonly b: number;
}

/** Parts that weigh less move no quantile by as much as anybody is shown. */
const negligible = 1e-7;

/** How near to the probability asked for a quantile comes, or to the quantile itself, where the distribution is steep. */
const tolerance = 1e-9;

/** What a rate of this mixture is on average, 0 to 1. */
export function meanOfShares(shares: readonly Share[]): number {
  return shares.reduce((sum, { weight, a, b }) => sum + (weight * a) / (a + b), 0);
}

/** The rate, 0 to 1, below which a rate of this mixture lies with this probability. */
export function quantileOfShares(probability: number, shares: readonly Share[]): number {
  const parts = shares
    .filter(({ weight }) => weight > negligible)
    .map((part) => ({ ...part, log: logBeta(part.a, part.b) }));
  const whole = parts.reduce((sum, { weight }) => sum + weight, 0);
  let [low, high] = [0, 1];
  let x = meanOfShares(parts) / whole;
  while (high - low > tolerance) {
    let [below, slope] = [0, 0];
    for (const { weight, a, b, log } of parts) {
      below += (weight / whole) * regularizedBeta(x, a, b);
      slope += (weight / whole) * Math.exp((a - 1) * Math.log(x) + (b - 1) * Math.log1p(-x) - log);
    }
    const excess = below - probability;
    if (Math.abs(excess) < tolerance) return x;
    if (excess < 0) low = x;
    else high = x;
    // Newton's step where it stays inside what is known; halving is slow and cannot fail.
    const next = x - excess / slope;
    x = next > low && next < high ? next : (low + high) / 2;
  }
  return x;
}
