import { regularizedBeta } from './regularized-beta.ts';

/** Halvings after which an interval between two numbers holds no third one, wherever it lies between 0 and 1 and is not minute. */
const halvings = 120;

/**
 * The share, 0 to 1, below which a share with distribution Beta(a, b) lies with this probability; `a` and `b` above 0. Found by
 * halving, which is slow and cannot fail.
 */
export function betaQuantile(probability: number, a: number, b: number): number {
  let low = 0;
  let high = 1;
  for (let step = 0; step < halvings; step++) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (regularizedBeta(middle, a, b) < probability) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
