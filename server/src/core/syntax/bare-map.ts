/** Makes maps of a certain number of keys. */
type Constructor = new () => Record<string, never>;

/**
 * Maps so made share their layout, which takes half the memory of what `Object.create(null)` gives; and as engines give all maps of
 * one function the room that its first few needed, there is a function for each number of keys.
 */
const constructors: readonly Constructor[] = Array.from({ length: 32 }, () => {
  const BareMap = function BareMap() {} as unknown as Constructor;
  BareMap.prototype = Object.create(null);
  return BareMap;
});

const roomiest = constructors.at(-1) as Constructor;

/** An empty map without inherited keys, with room for so many. */
export function bareMap<Value>(keys: number): Record<string, Value> {
  return new (constructors[keys] ?? roomiest)();
}
