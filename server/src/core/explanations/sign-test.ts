/**
 * The exact sign test: whether of things that differ more differ one way than even chances allow.
 * Laws (test/property/exact-tests.property.test.ts):
 * - both ways exchanged keep the p of the sign test
 * - all differing one way has the smallest p of the sign test
 */
import type { ExactTest } from './fisher-exact.ts';

/** Two-sided, from the numbers that differ one way and the other. */
export function signTest(oneWay: number, otherWay: number): ExactTest {
  const all = oneWay + otherWay;
  return { p: tail(Math.min(oneWay, otherWay), all), least: tail(0, all) };
}

/** Twice the chance of at most so many of all, at most 1. */
function tail(most: number, all: number): number {
  let term = 2 ** -all;
  let sum = 0;
  for (let k = 0; k <= most; k++) {
    sum += term;
    term *= (all - k) / (k + 1);
  }
  return Math.max(Number.MIN_VALUE, Math.min(1, 2 * sum));
}
