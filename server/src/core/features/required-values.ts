import type { Value, ValueMap } from '../edits/intent.ts';
import { type KeyRow, keyNodes } from '../schema/key-rows.ts';

/** What a key has to hold at least: of a map that has required keys these, of a list one such entry, else what `fill` gives for it. */
export function requiredValue(row: KeyRow, fill: (row: KeyRow) => Value): Value {
  const rows = row.type === 'map' && row.node !== undefined ? (keyNodes[row.node] ?? []) : [];
  const inner = requiredValues(rows, fill);
  if (Object.keys(inner).length === 0) return fill(row);
  return row.list === 'yes' ? [inner] : inner;
}

/** The required keys of a map, each with what it has to hold at least. */
export function requiredValues(rows: readonly KeyRow[], fill: (row: KeyRow) => Value): ValueMap {
  const required = rows.filter((row) => row.required);
  return Object.fromEntries(required.map((row) => [row.name, requiredValue(row, fill)]));
}
