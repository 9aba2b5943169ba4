import { SharedMap } from './shared-map.ts';

/**
 * Lists by key after some items went and others came; `keysOf` gives the keys an item is listed under, each once. The list of a key for
 * which nothing changed stays the same object, and keys without items are absent.
 */
export function relisted<Item>(
  lists: SharedMap<readonly Item[]> | undefined,
  { gone, come }: { readonly gone: Iterable<Item>; readonly come: Iterable<Item> },
  keysOf: (item: Item) => Iterable<string>,
): SharedMap<readonly Item[]> {
  const before = lists ?? SharedMap.of<readonly Item[]>();
  const isGone = new Set(gone);
  const changed = new Map<string, Item[]>();
  const listOf = (key: string): Item[] => {
    const list = changed.get(key) ?? (before.get(key) ?? []).filter((item) => !isGone.has(item));
    changed.set(key, list);
    return list;
  };
  for (const item of isGone) for (const key of keysOf(item)) listOf(key);
  for (const item of come) for (const key of keysOf(item)) listOf(key).push(item);
  return before.with(Array.from(changed, ([key, list]) => [key, list.length > 0 ? list : undefined] as const));
}
