/**
 * What one result is expected to tell about which of some explanations is right.
 * Laws (test/property/expected-information.property.test.ts):
 * - it is what enumerating every explanation with every result gives
 * - it is never negative, and never more than the result itself is uncertain
 */

/** What is expected of a swap. */
export interface Expected {
  /** Bits, 0 to 1. */
  readonly information: number;
  /** The chance that it works, 0 to 1. */
  readonly works: number;
}

/**
 * Mutual information of explanation and result. Of every explanation, in one order: how far it is believed, 0 to 1, coming to 1
 * together, and the chance that the swap works if it is right. Source: Shannon, Bell System Technical Journal 27 (1948) 379 (from memory).
 */
export function expectedInformation(weights: ArrayLike<number>, chances: ArrayLike<number>): Expected {
  let [works, remaining] = [0, 0];
  for (let n = 0; n < weights.length; n++) {
    const [weight, chance] = [weights[n] ?? 0, chances[n] ?? 0];
    works += weight * chance;
    remaining += weight * uncertainty(chance);
  }
  return { information: Math.max(0, uncertainty(works) - remaining), works };
}

/** How uncertain it is whether something of this chance happens, in bits. */
function uncertainty(chance: number): number {
  if (chance <= 0 || chance >= 1) return 0;
  return -(chance * Math.log2(chance) + (1 - chance) * Math.log2(1 - chance));
}
