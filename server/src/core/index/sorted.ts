import { byCodeUnits } from '../text/by-code-units.ts';

/** Reads the id that a list is sorted by. */
type IdOf<Item> = (item: Item) => string;

/** The item of an id in a list sorted by id, or undefined. */
export function findSorted<Item>(items: readonly Item[], id: string, idOf: IdOf<Item>): Item | undefined {
  const item = items[positionOf(items, id, idOf)];
  return item !== undefined && idOf(item) === id ? item : undefined;
}

/**
 * A list sorted by id in which the items of some ids are replaced, added, or (where `find` gives undefined) removed. Meant for few
 * ids: each one that comes or goes moves all behind it. The same list comes back where nothing differs.
 */
export function replaceSorted<Item>(
  items: readonly Item[],
  ids: Iterable<string>,
  idOf: IdOf<Item>,
  find: (id: string) => Item | undefined,
): readonly Item[] {
  let copy: Item[] | undefined;
  for (const id of ids) {
    const at = positionOf(copy ?? items, id, idOf);
    const old = findSorted(copy ?? items, id, idOf);
    const item = find(id);
    if (item === old) continue;
    copy ??= [...items];
    copy.splice(at, old === undefined ? 0 : 1, ...(item === undefined ? [] : [item]));
  }
  return copy ?? items;
}

/** The ids whose items differ between two lists sorted by id. */
export function differingIds<Item>(a: readonly Item[], b: readonly Item[], idOf: IdOf<Item>): Set<string> {
  const ids = new Set<string>();
  // Most lists have all but a few items in common.
  let start = 0;
  while (start < a.length && start < b.length && a[start] === b[start]) start++;
  let [endOfA, endOfB] = [a.length, b.length];
  while (endOfA > start && endOfB > start && a[endOfA - 1] === b[endOfB - 1]) {
    endOfA--;
    endOfB--;
  }
  for (let [i, j] = [start, start]; i < endOfA || j < endOfB; ) {
    const left = i < endOfA ? a[i] : undefined;
    const right = j < endOfB ? b[j] : undefined;
    if (left !== undefined && left === right) {
      i++;
      j++;
      continue;
    }
    const order = left === undefined ? 1 : right === undefined ? -1 : byCodeUnits(idOf(left), idOf(right));
    if (order <= 0 && left !== undefined) ids.add(idOf(left));
    if (order >= 0 && right !== undefined) ids.add(idOf(right));
    if (order <= 0) i++;
    if (order >= 0) j++;
  }
  return ids;
}

/** Position of the first item whose id is not below this one. */
function positionOf<Item>(items: readonly Item[], id: string, idOf: IdOf<Item>): number {
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (byCodeUnits(idOf(items[middle] as Item), id) < 0) low = middle + 1;
    else high = middle;
  }
  return low;
}
