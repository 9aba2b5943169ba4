import { type Changes, changesBetween } from './changes.ts';
import type { Snapshot } from './snapshot.ts';

/**
 * A value that follows from a whole snapshot, and how to bring it from one snapshot to the next (invariant 9). Values are never
 * changed in place: whoever still works on the older snapshot keeps the older value. What `update` gives equals what `compute` would,
 * and keeps every part that is as it was, by identity, so that what builds on that part is kept too.
 */
export interface Derivation<Value> {
  readonly name: string;
  readonly compute: (snapshot: Snapshot) => Value;
  /** Called only where the changes are not sweeping. */
  readonly update: (value: Value, changes: Changes) => Value;
}

/** What a family of snapshots shares: the last value of each derivation. A computation that throws leaves nothing behind (invariant 12). */
export class Derived {
  private readonly last = new Map<Derivation<unknown>, { readonly snapshot: Snapshot; readonly value: unknown }>();

  /** The last changes asked for, and no more: a chain of them would keep every snapshot alive. */
  private changes: Changes | undefined;

  /** What differs between two snapshots. */
  changesBetween(before: Snapshot, after: Snapshot): Changes {
    if (this.changes?.before !== before || this.changes.after !== after) this.changes = changesBetween(before, after);
    return this.changes;
  }

  /** The value for a snapshot: the last one, brought up to date. */
  get<Value>(derivation: Derivation<Value>, snapshot: Snapshot): Value {
    const last = this.last.get(derivation as Derivation<unknown>);
    const changes = last && this.changesBetween(last.snapshot, snapshot);
    const value =
      last && changes && !changes.isSweeping
        ? derivation.update(last.value as Value, changes)
        : derivation.compute(snapshot);
    this.last.set(derivation as Derivation<unknown>, { snapshot, value });
    return value;
  }
}
