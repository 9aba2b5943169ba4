/**
 * Whether one of two reads went on some bytes early or late from where they begin to differ, as after a lost or doubled clock.
 * Laws (test/property/rom-images.property.test.ts):
 * - bytes that were lost or put in show as a shift of that many
 */

/** From `from` on, what the one image holds stands `bytes` further in the other. */
export interface Shift {
  /** Where the two begin to differ. */
  readonly from: number;
  readonly bytes: number;
  /** The image in which things stand further on. */
  readonly later: 'first' | 'second';
}

/** Furthest shift that is looked for, in bytes. */
const furthest = 65_536;
/** Bytes of an anchor, how many of them have to be distinct, and how many anchors of each image are looked for in the other. */
const [anchorBytes, fewestDistinct, mostAnchors] = [32, 12, 4];
/** Fewest bytes that have to agree after the shift, and how many shifts of each image are tried. */
const [leastOverlap, mostTried] = [64, 16];

/** The shift between two images that begin to differ at `from` and differ in `differing` bytes from there on; undefined where there is none. */
export function findShift(
  first: Uint8Array,
  second: Uint8Array,
  { from, differing }: { readonly from: number; readonly differing: number },
): Shift | undefined {
  // Where little differs a shift would explain less than it claims.
  if (differing < 16 || Math.min(first.length, second.length) - from < leastOverlap) return undefined;
  const there = candidates(first, second, from);
  const back = candidates(second, first, from).map((by) => -by);
  const shifts = [...new Set([...there, ...back])].sort((a, b) => Math.abs(a) - Math.abs(b) || a - b);
  const fitting = shifts.filter((by) =>
    by > 0
      ? fits({ earlier: first, later: second, from, by, differing })
      : fits({ earlier: second, later: first, from, by: -by, differing }),
  );
  const [best] = fitting;
  // What fits both ways repeats itself and says nothing of a shift.
  if (best === undefined || fitting.includes(-best)) return undefined;
  return { from, bytes: Math.abs(best), later: best > 0 ? 'second' : 'first' };
}

/** How much further what stands out in one image stands in the other. */
function candidates(here: Uint8Array, there: Uint8Array, from: number): number[] {
  const found: number[] = [];
  let anchors = 0;
  for (let at = from; at + anchorBytes <= here.length && anchors < mostAnchors; at += anchorBytes) {
    if (new Set(here.subarray(at, at + anchorBytes)).size < fewestDistinct) continue;
    anchors++;
    const end = Math.min(there.length - anchorBytes, at + furthest);
    for (let other = Math.max(from, at - furthest); other <= end && found.length < mostTried; other++) {
      if (other !== at && isSameFor(here, at, there, other)) found.push(other - at);
    }
  }
  return found;
}

function isSameFor(here: Uint8Array, at: number, there: Uint8Array, other: number): boolean {
  for (let offset = 0; offset < anchorBytes; offset++) if (here[at + offset] !== there[other + offset]) return false;
  return true;
}

interface Trial {
  readonly earlier: Uint8Array;
  readonly later: Uint8Array;
  readonly from: number;
  readonly by: number;
  readonly differing: number;
}

/** Whether from `from` on the later image holds what the other one does, `by` bytes further, but for one byte in 64. */
function fits({ earlier, later, from, by, differing }: Trial): boolean {
  const overlap = Math.min(earlier.length - from, later.length - from - by);
  if (overlap < leastOverlap) return false;
  const most = Math.min(overlap / 64, differing / 16);
  let wrong = 0;
  for (let at = from; at < from + overlap; at++) {
    if (earlier[at] !== later[at + by] && ++wrong > most) return false;
  }
  return true;
}
