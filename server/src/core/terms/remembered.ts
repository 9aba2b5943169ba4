/**
 * Results kept by the very object they were worked out from (invariant 12): for objects that never change, such as records,
 * snapshots and parts of them. They are let go with the object, and a computation that throws leaves nothing behind.
 */

/** `compute`, which is asked once for each object. It may look at nothing but that object. */
export function remembered<Key extends object, Value>(compute: (key: Key) => Value): (key: Key) => Value {
  const known = new WeakMap<Key, Value>();
  return (key) => getOrCompute(known, key, () => compute(key));
}

/** `compute`, which is asked once for each object in each scope. It may look at nothing but these two. */
export function rememberedWithin<Scope extends object, Key extends object, Value>(
  compute: (key: Key, scope: Scope) => Value,
): (key: Key, scope: Scope) => Value {
  const scopes = new WeakMap<Scope, Map<Key, Value>>();
  return (key, scope) => {
    const known = getOrCompute(scopes, scope, () => new Map<Key, Value>());
    return getOrCompute(known, key, () => compute(key, scope));
  };
}

interface Store<Key, Value> {
  get(key: Key): Value | undefined;
  has(key: Key): boolean;
  set(key: Key, value: Value): unknown;
}

function getOrCompute<Key, Value>(store: Store<Key, Value>, key: Key, compute: () => Value): Value {
  const known = store.get(key);
  // `undefined` is a result too.
  if (known !== undefined || store.has(key)) return known as Value;
  const value = compute();
  store.set(key, value);
  return value;
}
