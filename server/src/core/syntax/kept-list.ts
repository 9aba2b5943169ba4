const none: readonly never[] = [];

/** The same items in a list to keep: one list for all that are empty, and no room for more, of which engines leave plenty. */
export function keptList<Item>(items: readonly Item[]): readonly Item[] {
  return items.length === 0 ? none : items.slice();
}
