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
  // Ways are counted, and powers of two kept apart: of many, no number would hold the ways or the chance of one.
  let [ways, sum, exponent] = [1, 1, 1 - all];
  for (let k = 0; k < most; k++) {
    ways = (ways * (all - k)) / (k + 1);
    sum += ways;
    if (sum > 2 ** 500) [ways, sum, exponent] = [ways / 2 ** 500, sum / 2 ** 500, exponent + 500];
  }
  return Math.max(Number.MIN_VALUE, Math.min(1, sum * 2 ** exponent));
}
