/**
 * Results kept by the very object they were worked out from (invariant 12): for objects that never change, such as records,
 * snapshots and parts of them. They are let go with the object, and a computation that throws leaves nothing behind.
 */

/** `compute`, asked once for each object. It may look at nothing but that object. */
export function remembered<Key extends object, Value>(compute: (key: Key) => Value): (key: Key) => Value {
  const known = new WeakMap<Key, Value>();
  return (key) => {
    const found = known.get(key);
    // `undefined` is a result too.
    if (found !== undefined || known.has(key)) return found as Value;
    const value = compute(key);
    known.set(key, value);
    return value;
  };
}

/** `compute`, asked once for each object within each scope, such as a record in a snapshot. It may look at nothing but these two. */
export function rememberedWithin<Scope extends object, Key extends object, Value>(
  compute: (key: Key, scope: Scope) => Value,
): (key: Key, scope: Scope) => Value {
  const inScope = remembered((scope: Scope) => remembered((key: Key) => compute(key, scope)));
  return (key, scope) => inScope(scope)(key);
}
