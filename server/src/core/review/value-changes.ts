/**
 * What differs between the values of two records, key by key.
 * Laws (test/property/value-changes.property.test.ts):
 * - a record has no changes from itself, nor from one whose keys and list entries stand in another order
 * - a value that is there now is found at its path, and a change of a key was at that path before
 * - records differ where one has changes from the other, and then the other has as many
 */

import { keyRanks } from '../edits/write-value.ts';
import { isEqual } from '../index/is-equal.ts';
import type { AnyRecord } from '../model/record.ts';
import { keyRowsIn } from '../schema/key-rows.ts';
import { isMap } from '../syntax/is-map.ts';
import type { Path } from '../syntax/tape.ts';
import { addTo } from '../terms/grouped.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { ValueChange } from './review.ts';

/** The values that differ, in the order of the schema. Entries of a list count as the same wherever they stand in it. */
export function valueChanges(before: AnyRecord, after: AnyRecord): readonly ValueChange[] {
  const changes = [...dataChanges(before.kind, before.data, after.data)];
  const unread = (record: AnyRecord, other: AnyRecord): readonly Path[] =>
    record.unusable.filter((path) => !other.unusable.some((one) => isEqual(one, path)));
  const isCovered = (path: Path): boolean => changes.some((change) => isEqual(change.path, path));
  const now = unread(after, before);
  const then = unread(before, after);
  return [
    ...changes.map((change) => ({ ...change, ...unusableOn(change.path, then, now) })),
    ...[...then, ...now]
      .filter((path) => !isCovered(path))
      .map((path) => ({ path, before: undefined, after: undefined, ...unusableOn(path, then, now) })),
  ];
}

/** The same for plain data whose keys `node` describes. */
export function* dataChanges(node: string, before: unknown, after: unknown, path: Path = []): Generator<ValueChange> {
  if (isEqual(before, after)) return;
  if (isMap(before) && isMap(after)) {
    for (const key of keysOf(node, path, before, after))
      yield* dataChanges(node, before[key], after[key], [...path, key]);
  } else if (Array.isArray(before) && Array.isArray(after)) {
    yield* listChanges(node, before, after, path);
  } else yield { path, before, after };
}

function unusableOn(path: Path, then: readonly Path[], now: readonly Path[]): Pick<ValueChange, 'unusable'> {
  if (now.some((one) => isEqual(one, path))) return { unusable: 'after' };
  return then.some((one) => isEqual(one, path)) ? { unusable: 'before' } : {};
}

type Entries = readonly unknown[];

function* listChanges(node: string, before: Entries, after: Entries, path: Path): Generator<ValueChange> {
  const partners = matchEntries(before, after, nameKeyOf(node, path));
  const taken = new Set(partners.values());
  for (const [position, entry] of after.entries()) {
    const partner = partners.get(position);
    yield* dataChanges(node, partner === undefined ? undefined : before[partner], entry, [...path, position]);
  }
  for (const [position, entry] of before.entries()) {
    if (!taken.has(position)) yield { path: [...path, position], before: entry, after: undefined };
  }
}

/** Pairs of entries that are held against each other one by one; a file of a megabyte may hold lists of any length. */
const mostCompared = 10_000;

/** Positions before by positions after: equal entries first, then maps that have their name or most of their keys in common. */
function matchEntries(before: Entries, after: Entries, nameKey: string | undefined): ReadonlyMap<number, number> {
  const partners = new Map<number, number>();
  const left = new Map<string, number[]>();
  for (const [position, entry] of before.entries()) addTo(left, canonical(entry), position);
  for (const [position, entry] of after.entries()) {
    const same = left.get(canonical(entry))?.shift();
    if (same !== undefined) partners.set(position, same);
  }
  const then = [...left.values()].flat().sort((a, b) => a - b);
  const now = [...after.keys()].filter((position) => !partners.has(position));
  if (then.length * now.length <= mostCompared)
    matchAlike({ then, now }, partners, (a, b) => likeness(before[a], after[b], nameKey));
  return partners;
}

interface Open {
  readonly then: readonly number[];
  readonly now: readonly number[];
}

/** Adds the likeliest partners of those that are left; of pairs that are equally likely those of the first entries. */
function matchAlike(
  open: Open,
  partners: Map<number, number>,
  likenessOf: (then: number, now: number) => number,
): void {
  const taken = new Set<number>();
  const pairs = open.now
    .flatMap((now) => open.then.map((then) => ({ now, then, likeness: likenessOf(then, now) })))
    .filter((pair) => pair.likeness > 0)
    .sort((a, b) => b.likeness - a.likeness);
  for (const { now, then } of pairs) {
    if (partners.has(now) || taken.has(then)) continue;
    partners.set(now, then);
    taken.add(then);
  }
}

/** A text that two values share exactly where they differ in the order of keys and entries at most. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).sort().join(',')}]`;
  if (!isMap(value)) return JSON.stringify(value) ?? '';
  const entries = Object.entries(value).map(([key, inner]) => `${JSON.stringify(key)}:${canonical(inner)}`);
  return `{${entries.sort().join(',')}}`;
}

/** How much two entries have in common: 0 where they are taken for different ones. */
function likeness(a: unknown, b: unknown, nameKey: string | undefined): number {
  if (!isMap(a) || !isMap(b)) return 0;
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  const equal =
    [...keys].filter((key) => a[key] !== undefined && canonical(a[key]) === canonical(b[key])).length / keys.size;
  const isNamesake = nameKey !== undefined && a[nameKey] !== undefined && isEqual(a[nameKey], b[nameKey]);
  return isNamesake ? 1 + equal : equal > 0.5 ? equal : 0;
}

/** The first key that every entry of a list has to have. */
function nameKeyOf(node: string, path: Path): string | undefined {
  return keyRowsIn(node, path).find(({ required }) => required)?.name;
}

type Keys = Readonly<Record<string, unknown>>;

/** The keys of either map: those of the schema in its order, then others by name. */
function keysOf(node: string, path: Path, before: Keys, after: Keys): readonly string[] {
  const rank = keyRanks(node, path);
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].sort(
    (a, b) => rank(a) - rank(b) || byCodeUnits(a, b),
  );
}
