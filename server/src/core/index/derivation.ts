/**
 * What follows from a whole snapshot (invariant 9), worked out in small steps (invariant 10) that several may take in turn.
 * Laws (test/property/derivation.property.test.ts):
 * - a derivation comes to the same however its steps are taken
 * - what an edit meets half done is carried on, and nothing stale comes of it
 * - several at one derivation all come to an end, even where none is of use to another
 * - a computation that throws leaves nothing behind
 */
import { drained } from '../terms/drained.ts';
import { remembered } from '../terms/remembered.ts';
import { type Changes, changesBetween } from './changes.ts';
import type { Layers } from './memo.ts';
import type { Snapshot } from './snapshot.ts';

/** Work that may be interrupted wherever it yields. */
export type Steps<Value> = Generator<undefined, Value>;

/** What `update` gives where the value does not follow from the one before. */
export const anew = Symbol('anew');

/**
 * A value that follows from a whole snapshot, and how to bring it from one snapshot to the next. Values are never changed in place:
 * whoever still works on the older snapshot keeps the older value. What `update` gives equals what `compute` would, and keeps every
 * part that is as it was, by identity, so that what builds on that part is kept too.
 */
export interface Derivation<Value> {
  readonly name: string;
  /** What `compute` asks for: it is derived first. Whatever is missing here is right all the same, but worked out in one go. */
  readonly restsOn?: readonly Derivation<unknown>[];
  /** Yields after every few records: it takes a second on a large base. */
  compute(snapshot: Snapshot): Steps<Value>;
  /** Called only where the changes are not sweeping. */
  update(value: Value, changes: Changes): Value | typeof anew;
}

/** The last value of a derivation in a family of snapshots. */
interface Last {
  readonly snapshot: Snapshot;
  readonly value: unknown;
}

/** A computation that is under way, or is over: at its end, or because the value is known by now. */
interface Begun {
  readonly snapshot: Snapshot;
  readonly steps: Steps<unknown>;
  isOver: boolean;
}

type AnyDerivation = Derivation<unknown>;

/** Values by snapshot, and the last ones by what a family of snapshots shares. All are let go with their key. */
const valuesOf = remembered((_snapshot: Snapshot) => new Map<AnyDerivation, unknown>());
const lastOf = remembered((_layers: Layers) => new Map<AnyDerivation, Last>());
const begunOf = remembered((_layers: Layers) => new Map<AnyDerivation, Begun[]>());

/**
 * The value of a derivation for a snapshot: the last one of its family, brought up to date. A computation that throws leaves nothing
 * behind (invariant 12).
 */
export function derive<Value>(derivation: Derivation<Value>, snapshot: Snapshot): Value {
  const values = valuesOf(snapshot);
  return values.has(derivation) ? (values.get(derivation) as Value) : drained(deriving(derivation, snapshot));
}

/**
 * The same in steps. What others have begun is carried on, be it for an earlier snapshot that little has changed since: then it is
 * brought up to date.
 */
export function* deriving<Value>(derivation: Derivation<Value>, snapshot: Snapshot): Steps<Value> {
  const values = valuesOf(snapshot);
  for (;;) {
    if (values.has(derivation)) return values.get(derivation) as Value;
    const updated = broughtUpToDate(derivation, snapshot);
    if (updated !== anew) {
      keep(derivation, snapshot, updated);
      return updated;
    }
    for (const one of derivation.restsOn ?? []) yield* deriving(one, snapshot);
    const begun = begunFor(derivation, snapshot);
    while (!begun.isOver) {
      takeStep(derivation, begun);
      yield;
    }
  }
}

/** Several in steps, one after the other. */
export function* derivingAll(derivations: Iterable<AnyDerivation>, snapshot: Snapshot): Steps<void> {
  for (const derivation of derivations) yield* deriving(derivation, snapshot);
}

/** Whether a derivation is at hand for a snapshot, or will be after an update, which takes no longer than edits are large. */
export function isAtHand(derivation: AnyDerivation, snapshot: Snapshot): boolean {
  return valuesOf(snapshot).has(derivation) || changesSinceLast(derivation, snapshot) !== undefined;
}

/** The last value of the family for this snapshot; `anew` where it is of no use. */
function broughtUpToDate<Value>(derivation: Derivation<Value>, snapshot: Snapshot): Value | typeof anew {
  const since = changesSinceLast(derivation, snapshot);
  return since ? derivation.update(since.value as Value, since.changes) : anew;
}

function changesSinceLast(
  derivation: AnyDerivation,
  snapshot: Snapshot,
): { readonly value: unknown; readonly changes: Changes } | undefined {
  const last = lastOf(snapshot.layers).get(derivation);
  const changes = last && changesBetween(last.snapshot, snapshot);
  return last && changes && !changes.isSweeping ? { value: last.value, changes } : undefined;
}

/** The computation that is under way for a snapshot or one it hardly differs from, begun now where there is none. */
function begunFor(derivation: AnyDerivation, snapshot: Snapshot): Begun {
  const all = begunIn(derivation, snapshot.layers);
  const known = all.find((one) => one.snapshot === snapshot || !changesBetween(one.snapshot, snapshot).isSweeping);
  if (known) return known;
  const begun: Begun = { snapshot, steps: derivation.compute(snapshot), isOver: false };
  all.push(begun);
  return begun;
}

function begunIn(derivation: AnyDerivation, layers: Layers): Begun[] {
  const all = begunOf(layers).get(derivation) ?? [];
  begunOf(layers).set(derivation, all);
  return all;
}

function takeStep(derivation: AnyDerivation, begun: Begun): void {
  try {
    const step = begun.steps.next();
    if (step.done) keep(derivation, begun.snapshot, step.value);
  } catch (error) {
    begun.isOver = true;
    const all = begunIn(derivation, begun.snapshot.layers);
    all.splice(all.indexOf(begun), 1);
    throw error;
  }
}

/** Whoever is still at a computation for another snapshot looks again: most then need no more than an update. */
function keep(derivation: AnyDerivation, snapshot: Snapshot, value: unknown): void {
  valuesOf(snapshot).set(derivation, value);
  lastOf(snapshot.layers).set(derivation, { snapshot, value });
  for (const begun of begunIn(derivation, snapshot.layers).splice(0)) begun.isOver = true;
}
