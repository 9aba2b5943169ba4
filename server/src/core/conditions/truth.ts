/**
 * Strong Kleene logic with three values: true, false, and undefined for "not known".
 * Source: Kleene, Introduction to Metamathematics (1952), § 64 (from memory).
 * Laws (test/property/truth.property.test.ts):
 * - learning a value never turns true into false
 * - de Morgan holds
 * - a conjunction is as true as its least true part
 */
export type Truth = boolean | undefined;

/** True if all are, false if any is false, else not known. True of none. */
export function andAll(truths: Iterable<Truth>): Truth {
  let result: Truth = true;
  for (const truth of truths) {
    if (truth === false) return false;
    if (truth === undefined) result = undefined;
  }
  return result;
}

/** True if any is, false if all are false, else not known. False of none. */
export function orAny(truths: Iterable<Truth>): Truth {
  let result: Truth = false;
  for (const truth of truths) {
    if (truth === true) return true;
    if (truth === undefined) result = undefined;
  }
  return result;
}

/** Not; what is not known stays so. */
export function not(truth: Truth): Truth {
  return truth === undefined ? undefined : !truth;
}
