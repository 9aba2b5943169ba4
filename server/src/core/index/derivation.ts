import { remembered } from '../terms/remembered.ts';
import { type Changes, changesBetween } from './changes.ts';
import type { Layers } from './memo.ts';
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

/** The last value of a derivation in a family of snapshots. */
interface Last {
  readonly snapshot: Snapshot;
  readonly value: unknown;
}

type AnyDerivation = Derivation<unknown>;

/** Values by snapshot, and the last ones by what a family of snapshots shares. Both are let go with their key. */
const valuesOf = remembered((_snapshot: Snapshot) => new Map<AnyDerivation, unknown>());
const lastOf = remembered((_layers: Layers) => new Map<AnyDerivation, Last>());

/**
 * The value of a derivation for a snapshot: the last one of its family, brought up to date. A computation that throws leaves nothing
 * behind (invariant 12).
 */
export function derive<Value>(derivation: Derivation<Value>, snapshot: Snapshot): Value {
  const values = valuesOf(snapshot);
  const key = derivation as AnyDerivation;
  if (values.has(key)) return values.get(key) as Value;
  const last = lastOf(snapshot.layers).get(key);
  const changes = last && changesBetween(last.snapshot, snapshot);
  const value =
    last && changes && !changes.isSweeping
      ? derivation.update(last.value as Value, changes)
      : derivation.compute(snapshot);
  values.set(key, value);
  lastOf(snapshot.layers).set(key, { snapshot, value });
  return value;
}
