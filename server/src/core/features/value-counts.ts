import type { Path } from '../syntax/tape.ts';
import { remembered } from '../terms/remembered.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { foldText } from '../text/fold.ts';

/** A record, of which only its data is counted. */
interface HoldsData {
  readonly data: unknown;
}

/** How often values of a key stand in some records. */
export interface ValueCounts {
  /** By how many records hold a value, the most first; values that compare equal are one, as first met. */
  readonly values: readonly { readonly value: string; readonly records: number }[];
  /** Records that hold none. */
  readonly without: number;
}

/**
 * The values under a key, list positions left out of its path, in records kept by `owner`: an object that is another one whenever the
 * records are. `records` is asked for only where they have not been counted before; `name` tells sets of one owner apart.
 */
export function countValues(owner: object, name: string, keys: Path, records: () => Iterable<HoldsData>): ValueCounts {
  const known = countsOf(owner);
  const label = [name, ...keys].join(' ');
  const found = known.get(label) ?? computeCounts(keys, records());
  known.set(label, found);
  return found;
}

const countsOf = remembered((_owner: object) => new Map<string, ValueCounts>());

function computeCounts(keys: Path, records: Iterable<HoldsData>): ValueCounts {
  const counts = new Map<string, { readonly value: string; records: number }>();
  let without = 0;
  for (const { data } of records) {
    const values = new Map(valuesAt(data, keys).map((value) => [foldText(value), value]));
    if (values.size === 0) without++;
    for (const [folded, value] of values) {
      const count = counts.get(folded) ?? { value, records: 0 };
      count.records++;
      counts.set(folded, count);
    }
  }
  const values = [...counts.values()].sort((a, b) => b.records - a.records || byCodeUnits(a.value, b.value));
  return { values, without };
}

/** The scalars under a key of a record's data, in lists too, as text. */
export function valuesAt(data: unknown, keys: Path): readonly string[] {
  if (Array.isArray(data)) return data.flatMap((item) => valuesAt(item, keys));
  const [key, ...rest] = keys;
  if (key === undefined) return data === undefined || data === null || typeof data === 'object' ? [] : [String(data)];
  return typeof data === 'object' && data !== null ? valuesAt((data as Record<string, unknown>)[key], rest) : [];
}
