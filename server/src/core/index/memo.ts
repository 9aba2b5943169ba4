/**
 * Invariants 9 and 12: results keyed by the very objects they were computed from. Records keep their identity across snapshots,
 * so comparing inputs costs a few pointer comparisons; a computation that throws leaves nothing behind.
 * Two snapshots may share one memo: at worst they compute the same thing twice.
 */
export class Memo<Value> {
  private readonly known = new Map<string, { readonly inputs: readonly unknown[]; readonly value: Value }>();

  /** The value computed from exactly these inputs under this name, computed now if it is not at hand. */
  get(name: string, inputs: readonly unknown[], compute: () => Value): Value {
    const known = this.known.get(name);
    if (known && isSameList(known.inputs, inputs)) return known.value;
    const value = compute();
    this.known.set(name, { inputs, value });
    return value;
  }
}

/** Whether two lists hold the very same objects in the same order. */
export function isSameList(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((item, position) => Object.is(item, b[position]));
}

/** A named kind of result. Modules that compute one export it; the snapshot keeps the memo. */
export interface Layer<Value> {
  readonly name: string;
  /** Only for the type; never read. */
  readonly value?: Value;
}

/** The memos of a family of snapshots, one for each layer. */
export class Layers {
  private readonly memos = new Map<Layer<unknown>, Memo<unknown>>();

  of<Value>(layer: Layer<Value>): Memo<Value> {
    let memo = this.memos.get(layer);
    if (!memo) {
      memo = new Memo();
      this.memos.set(layer, memo);
    }
    return memo as Memo<Value>;
  }
}
