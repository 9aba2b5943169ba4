/**
 * What is left of a p where many were looked at.
 * Laws (test/property/exact-tests.property.test.ts):
 * - adjusted p keep their order and are never smaller
 * - what cannot reach the threshold costs the others nothing
 */
import type { ExactTest } from './fisher-exact.ts';

/** Where many tests are made, at most this share of benches without any effect is told of one. Source: the usual 5 %. */
const level = 0.05;

/**
 * p adjusted by Holm's method, in the order given. Source: Holm, Scandinavian Journal of Statistics 6 (1979) 65 (from memory); values
 * in test/explanations/exact-tests.test.ts.
 */
export function holm(ps: readonly number[]): number[] {
  const adjusted = new Array<number>(ps.length).fill(1);
  let largest = 0;
  for (const [rank, [position, p]] of [...ps.entries()].sort(([, a], [, b]) => a - b).entries()) {
    largest = Math.max(largest, Math.min(1, (ps.length - rank) * p));
    adjusted[position] = largest;
  }
  return adjusted;
}

/**
 * p adjusted over those tests alone that could reach the threshold, whatever came of the swaps; undefined for the others.
 * Source: Tarone, Biometrics 46 (1990) 515 (from memory): the least number k such that at most k tests could have p of level / k.
 */
export function adjustReachable(tests: readonly ExactTest[]): (number | undefined)[] {
  const leasts = tests.map(({ least }) => least).sort((a, b) => a - b);
  let k = 1;
  while ((leasts[k] ?? 1) <= level / k) k++;
  const reachable = [...tests.keys()].filter((position) => (tests[position]?.least ?? 1) <= level / k);
  const adjusted = new Array<number | undefined>(tests.length).fill(undefined);
  const values = holm(reachable.map((position) => tests[position]?.p ?? 1));
  for (const [n, position] of reachable.entries()) adjusted[position] = values[n];
  return adjusted;
}
