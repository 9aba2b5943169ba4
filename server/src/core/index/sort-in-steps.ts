/** Items sorted before the first yield, and between two. */
const itemsPerStep = 1000;

/** The items in order, those that compare equal as they were; in steps, since to sort twenty thousand at once takes longer than a slice. */
export function* sortInSteps<Item>(
  items: readonly Item[],
  compare: (a: Item, b: Item) => number,
): Generator<undefined, Item[]> {
  let runs: Item[][] = [];
  for (let from = 0; from < items.length; from += itemsPerStep) {
    runs.push(items.slice(from, from + itemsPerStep).sort(compare));
    yield;
  }
  while (runs.length > 1) {
    const merged: Item[][] = [];
    for (let at = 0; at < runs.length; at += 2) {
      merged.push(merge(runs[at] ?? [], runs[at + 1] ?? [], compare));
      yield;
    }
    runs = merged;
  }
  return runs[0] ?? [];
}

function merge<Item>(a: readonly Item[], b: readonly Item[], compare: (a: Item, b: Item) => number): Item[] {
  const merged: Item[] = [];
  let [i, j] = [0, 0];
  while (i < a.length && j < b.length) {
    const [one, other] = [a[i] as Item, b[j] as Item];
    if (compare(one, other) <= 0) {
      merged.push(one);
      i++;
    } else {
      merged.push(other);
      j++;
    }
  }
  for (; i < a.length; i++) merged.push(a[i] as Item);
  for (; j < b.length; j++) merged.push(b[j] as Item);
  return merged;
}
