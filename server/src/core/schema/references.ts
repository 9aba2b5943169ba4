import { type KeyRow, keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { Path } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';

/** A value that names a record, or a revision written BOARD/REV. */
export interface Reference {
  readonly refersTo: Kind | 'revision';
  readonly row: KeyRow;
  readonly id: string;
  readonly path: Path;
}

/** The references in a record's data, in the order of the data. The schemas say which keys hold one. */
export function* referencesIn(node: string, data: unknown, path: Path = []): Generator<Reference> {
  const rows = rowsWithReferences(node);
  if (rows.size === 0 || typeof data !== 'object' || data === null) return;
  for (const [key, value] of Object.entries(data)) {
    const row = rows.get(key);
    if (row) yield* referencesAt(row, value, [...path, key]);
  }
}

function* referencesAt(row: KeyRow, value: unknown, path: Path): Generator<Reference> {
  if (Array.isArray(value)) {
    for (const [position, item] of value.entries()) yield* referencesAt(row, item, [...path, position]);
    return;
  }
  const refersTo = targetOf(row);
  if (refersTo && typeof value === 'string') yield { refersTo, row, id: value, path };
  else if (row.node !== undefined) yield* referencesIn(row.node, value, path);
}

function targetOf(row: KeyRow): Reference['refersTo'] | undefined {
  return isRevisionName(row) ? 'revision' : (row.refersTo as Kind | undefined);
}

/** In conditions a revision is written BOARD/REV, so its row expects a form; a drive's own `rev` is free text. */
function isRevisionName(row: KeyRow): boolean {
  return row.name === 'rev' && row.expected !== undefined;
}

const found = new Map<string, ReadonlyMap<string, KeyRow>>();

/** The rows of a map that hold references or lead to some. */
function rowsWithReferences(node: string): ReadonlyMap<string, KeyRow> {
  const known = found.get(node);
  if (known) return known;
  // Conditions contain conditions: while a node is being looked at, it counts as one that leads nowhere new.
  found.set(node, new Map());
  const all = (keyNodes[node] ?? []).filter(
    (row) => targetOf(row) || (row.node !== undefined && leadsOn(row.node, node)),
  );
  const rows = new Map(all.map((row) => [row.name, row]));
  found.set(node, rows);
  return rows;
}

function leadsOn(node: string, from: string): boolean {
  return node === from || rowsWithReferences(node).size > 0;
}
