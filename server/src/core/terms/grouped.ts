/** Items by key, both in the order they came. */
export function grouped<Item, Key>(items: Iterable<Item>, keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) addTo(groups, keyOf(item), item);
  return groups;
}

/** Puts an item at the end of the group of a key. */
export function addTo<Key, Item>(groups: Map<Key, Item[]>, key: Key, item: Item): void {
  const group = groups.get(key);
  if (group) group.push(item);
  else groups.set(key, [item]);
}
