/**
 * What bytes gone over without error are worth: what they leave possible, what they still lack, how long all would take.
 * Laws (test/property/verification.property.test.ts):
 * - with as much unreadable as the bound says, as many blocks pass without error just once in twenty times
 * - the bound lies below three divided by the number of blocks, and not far below where they are many
 * - more blocks without error lower the bound
 * - what is missing, once compared, reaches the share, and a byte less does not
 * - a full pass keeps the pace that was observed
 */

/** The doubt a bound leaves: it holds in 95 of 100 cases. */
const doubt = 0.05;

/**
 * The share of unreadable blocks, 0 to 1, that the true one stays below with 95 % confidence, where `blocks` (above 0, each gone over
 * once) showed no error: 1 − 0.05^(1/blocks). It takes blocks to fail independently of each other.
 * Source: Hanley and Lippman-Hand, JAMA 249 (1983) 1743; Eypasch and others, BMJ 311 (1995) 619, whose rule of three comes near it.
 */
export function unreadableShareBound(blocks: number): number {
  // Not as written above: of many blocks the power is so near to 1 that the difference would keep few digits.
  return -Math.expm1(Math.log(doubt) / blocks);
}

/** Bytes still to be compared until `comparedBytes` are the share `wanted` (0 to 1) of a capacity; 0 where they are. A whole number. */
export function bytesMissing(comparedBytes: number, wanted: number, capacityBytes: number): number {
  return Math.max(0, Math.ceil(wanted * capacityBytes - comparedBytes));
}

/** Minutes in which a capacity is gone over once, where `bytes` took `minutes`; undefined where either is 0. */
export function fullPassMinutes(bytes: number, minutes: number, capacityBytes: number): number | undefined {
  return bytes > 0 && minutes > 0 ? (minutes * capacityBytes) / bytes : undefined;
}
