/**
 * Invariant 7: a map that never changes and shares with the maps it came from all but a small part. A plain map of twenty thousand
 * entries takes milliseconds to copy, which an edit cannot wait for.
 * Laws (test/property/shared-map.property.test.ts):
 * - a shared map with changes holds what a plain map would
 * - what differs between two shared maps is what differs between plain ones
 */
const shardCount = 512;

type Shard<Value> = ReadonlyMap<string, Value>;

/** A map from texts, its entries in no particular order. It is divided when it is first changed or compared, so that one that never is costs no more than a plain map. */
export class SharedMap<Value> {
  private divided: readonly (Shard<Value> | undefined)[] | undefined;

  private constructor(
    /** All entries in one, where the map was made from nothing. */
    private readonly whole: ReadonlyMap<string, Value> | undefined,
    shards: readonly (Shard<Value> | undefined)[] | undefined,
    readonly size: number,
  ) {
    this.divided = shards;
  }

  /** The map of these entries; of one key the last entry counts. */
  static of<Value>(entries: Iterable<readonly [string, Value]> = []): SharedMap<Value> {
    const whole = new Map(entries);
    return new SharedMap<Value>(whole, undefined, whole.size);
  }

  get(key: string): Value | undefined {
    return this.whole ? this.whole.get(key) : this.shards[shardOf(key)]?.get(key);
  }

  has(key: string): boolean {
    return this.whole ? this.whole.has(key) : (this.shards[shardOf(key)]?.has(key) ?? false);
  }

  *values(): Generator<Value> {
    for (const shard of this.whole ? [this.whole] : this.shards) if (shard) yield* shard.values();
  }

  *keys(): Generator<string> {
    for (const shard of this.whole ? [this.whole] : this.shards) if (shard) yield* shard.keys();
  }

  /** The map after these entries were put into it, or taken out where the value is undefined. */
  with(changes: Iterable<readonly [string, Value | undefined]>): SharedMap<Value> {
    if (this.size === 0) return SharedMap.of(present(changes));
    const shards = [...this.shards];
    const own = new Map<number, Map<string, Value>>();
    let { size } = this;
    for (const [key, value] of changes) {
      const at = shardOf(key);
      const shard = own.get(at) ?? new Map(shards[at]);
      own.set(at, shard);
      shards[at] = shard;
      size -= shard.size;
      if (value === undefined) shard.delete(key);
      else shard.set(key, value);
      size += shard.size;
    }
    return new SharedMap<Value>(undefined, shards, size);
  }

  /** The keys whose values are not the same in both maps. Takes no time over the parts that the two share. */
  *differingKeys(other: SharedMap<Value>): Generator<string> {
    const [ours, theirs] = [this.shards, other.shards];
    if (ours === theirs) return;
    for (let at = 0; at < shardCount; at++) {
      const here = ours[at];
      const there = theirs[at];
      if (here === there) continue;
      for (const [key, value] of here ?? []) if (there?.get(key) !== value) yield key;
      for (const key of there?.keys() ?? []) if (!here?.has(key)) yield key;
    }
  }

  private get shards(): readonly (Shard<Value> | undefined)[] {
    this.divided ??= divide(this.whole ?? new Map());
    return this.divided;
  }
}

/** What is left of changes to an empty map. */
function present<Value>(changes: Iterable<readonly [string, Value | undefined]>): Map<string, Value> {
  const entries = new Map<string, Value>();
  for (const [key, value] of changes) {
    if (value === undefined) entries.delete(key);
    else entries.set(key, value);
  }
  return entries;
}

function divide<Value>(entries: ReadonlyMap<string, Value>): (Shard<Value> | undefined)[] {
  const shards: (Map<string, Value> | undefined)[] = [];
  for (const [key, value] of entries) {
    const at = shardOf(key);
    const shard = shards[at];
    if (shard) shard.set(key, value);
    else shards[at] = new Map([[key, value]]);
  }
  return shards;
}

/** Part of a map that a key belongs to. Ids and paths differ most at their ends, but a shop's may differ anywhere. */
function shardOf(key: string): number {
  let hash = 0;
  for (let at = 0; at < key.length; at++) hash = (Math.imul(hash, 31) + key.charCodeAt(at)) | 0;
  return (hash ^ (hash >>> 16)) & (shardCount - 1);
}
