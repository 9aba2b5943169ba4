/**
 * What several rows say of one record, put together.
 * Laws (test/property/importing.property.test.ts):
 * - in whatever order rows tell of a record, it comes to the same
 */

import type { Value, ValueMap } from '../edits/intent.ts';
import type { Path } from '../syntax/tape.ts';
import { addTo } from '../terms/grouped.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { foldText } from '../text/fold.ts';

/** What somebody says of a record. */
interface Said<By> {
  readonly by: By;
  readonly value: Value;
}

/** A key of which not all say the same: each value with those who say it. */
export interface Conflict<By> {
  readonly path: Path;
  readonly sides: readonly { readonly value: Value; readonly by: readonly By[] }[];
}

/** All that is said together, and where that contradicts itself. Of texts that count as equal the first by code units is taken. */
export function mergeSaid<By>(said: readonly { readonly by: By; readonly value: ValueMap }[]): {
  readonly value: ValueMap;
  readonly conflicts: readonly Conflict<By>[];
} {
  const conflicts: Conflict<By>[] = [];
  const value = merge(said, [], conflicts) as ValueMap;
  return { value, conflicts };
}

function merge<By>(said: readonly Said<By>[], path: Path, conflicts: Conflict<By>[]): Value {
  const [only, another] = said;
  if (only && !another) return only.value;
  const sides = sidesOf(said);
  const [first] = sides;
  if (first && sides.length === 1) return first.value;
  const values = said.map((one) => one.value);
  if (values.every(isMap)) return mergeMaps(said, path, conflicts);
  if (values.every(isListOfMaps)) return unionOf(values);
  conflicts.push({ path, sides });
  return first?.value ?? '';
}

/** Those who say the same, by value. */
function sidesOf<By>(said: readonly Said<By>[]): readonly { readonly value: Value; readonly by: readonly By[] }[] {
  const sides = new Map<string, { value: Value; by: By[] }>();
  for (const { by, value } of said) {
    const name = canonical(value);
    const side = sides.get(name);
    if (!side) sides.set(name, { value, by: [by] });
    else {
      side.by.push(by);
      if (byCodeUnits(JSON.stringify(value), JSON.stringify(side.value)) < 0) side.value = value;
    }
  }
  return [...sides].sort(([a], [b]) => byCodeUnits(a, b)).map(([, side]) => side);
}

function mergeMaps<By>(said: readonly Said<By>[], path: Path, conflicts: Conflict<By>[]): ValueMap {
  const byKey = new Map<string, Said<By>[]>();
  for (const { by, value } of said) {
    for (const [key, inner] of Object.entries(value as ValueMap)) addTo(byKey, key, { by, value: inner });
  }
  const merged = [...byKey]
    .sort(([a], [b]) => byCodeUnits(a, b))
    .map(([key, inner]) => [key, merge(inner, [...path, key], conflicts)] as const);
  return Object.fromEntries(merged);
}

/** The entries of all lists, each once. */
function unionOf(lists: readonly (readonly ValueMap[])[]): readonly ValueMap[] {
  const said = lists.flat().map((value) => ({ by: undefined, value }));
  return sidesOf(said).map(({ value }) => value as ValueMap);
}

/** The same for values that count as equal: case and repeated spaces aside, one value like a list of it, keys in any order. */
function canonical(value: Value): string {
  if (typeof value === 'string') return JSON.stringify(foldText(value));
  if (isList(value))
    return value.length === 1 && value[0] !== undefined ? canonical(value[0]) : `[${value.map(canonical).join()}]`;
  if (!isMap(value)) return JSON.stringify(value);
  const entries = Object.entries(value).sort(([a], [b]) => byCodeUnits(a, b));
  return `{${entries.map(([key, inner]) => `${JSON.stringify(key)}:${canonical(inner)}`).join()}}`;
}

/** What of a value does not stand in a record: each place with what stands there instead, undefined where nothing does. */
export function missingIn(value: Value, here: Value | undefined, path: Path = []): readonly Missing[] {
  if (isMap(value)) {
    const map = here !== undefined && isMap(here) ? here : {};
    return Object.entries(value).flatMap(([key, inner]) => missingIn(inner, map[key], [...path, key]));
  }
  if (isListOfMaps(value) && here !== undefined && isList(here)) {
    return value.flatMap((item, position) =>
      here.some((other) => missingIn(item, other).length === 0)
        ? []
        : [{ path: [...path, position], said: item, here: undefined }],
    );
  }
  return here !== undefined && canonical(value) === canonical(here) ? [] : [{ path, said: value, here }];
}

/** A value that a record does not have. */
export interface Missing {
  readonly path: Path;
  readonly said: Value;
  readonly here: Value | undefined;
}

function isList(value: Value): value is readonly Value[] {
  return Array.isArray(value);
}

function isMap(value: Value): value is ValueMap {
  return typeof value === 'object' && !Array.isArray(value);
}

function isListOfMaps(value: Value): value is readonly ValueMap[] {
  return isList(value) && value.every(isMap);
}
