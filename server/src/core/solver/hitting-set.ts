/**
 * Laws (test/property/smallest-removal.property.test.ts):
 * - a smallest hitting set meets every set, and no set that does is smaller, or as small and earlier
 */

/**
 * The smallest set of items with one of every set; of equal ones the one whose items, in order, come first. Undefined where `mayGoOn` ends the
 * search; it is asked at every step. The sets are lists of items in rising order, given as numbers; none may be empty.
 */
export function smallestHittingSet(
  sets: readonly (readonly number[])[],
  mayGoOn: () => boolean,
): readonly number[] | undefined {
  for (let size = fewest(sets); ; size++) {
    const found = search(sets, [], size, mayGoOn);
    if (found === 'stopped') return undefined;
    if (found) return found;
  }
}

/** The first hitting set of at most so many further items, all later than those chosen. */
function search(
  open: readonly (readonly number[])[],
  chosen: readonly number[],
  left: number,
  mayGoOn: () => boolean,
): readonly number[] | 'stopped' | undefined {
  if (open.length === 0) return chosen;
  if (!mayGoOn()) return 'stopped';
  const least = chosen.at(-1) ?? -1;
  const later = open.map((set) => set.filter((item) => item > least));
  if (later.some((set) => set.length === 0) || fewest(later) > left) return undefined;
  // Past the last item of any set it could not be met any more.
  const last = Math.min(...later.map((set) => set.at(-1) ?? least));
  const candidates = [...new Set(later.flat())].filter((item) => item <= last).sort((a, b) => a - b);
  for (const item of candidates) {
    const rest = later.filter((set) => !set.includes(item));
    const found = search(rest, [...chosen, item], left - 1, mayGoOn);
    if (found) return found;
  }
  return undefined;
}

/** No hitting set is smaller than the number of sets that have nothing in common. */
function fewest(sets: readonly (readonly number[])[]): number {
  const taken = new Set<number>();
  let count = 0;
  for (const set of [...sets].sort((a, b) => a.length - b.length)) {
    if (set.some((item) => taken.has(item))) continue;
    for (const item of set) taken.add(item);
    count++;
  }
  return count;
}
