import type { KeyRow } from '../../../../schemas/gen/key-table.ts';
import type { Path } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';
import { textFinder } from './text-finder.ts';

/** A value that names a record, or a revision written BOARD/REV. */
export interface Reference {
  readonly refersTo: Kind | 'revision';
  readonly row: KeyRow;
  readonly id: string;
  readonly path: Path;
}

/** The references in a record's data, in the order of the schema, which says which keys hold one. */
export function referencesIn(node: string, data: unknown): readonly Reference[] {
  return findReferences(node, data).flatMap(({ row, text, path }) => {
    const refersTo = targetOf(row);
    return refersTo ? { refersTo, row, id: text, path } : [];
  });
}

const findReferences = textFinder((row) => targetOf(row) !== undefined);

/** What the value of a key names; undefined where it names no record. */
export function targetOf(row: KeyRow): Reference['refersTo'] | undefined {
  return isRevisionName(row) ? 'revision' : row.refersTo;
}

/** In conditions a revision is written BOARD/REV, so its row expects a form; a drive's own `rev` is free text. */
function isRevisionName(row: KeyRow): boolean {
  return row.name === 'rev' && row.expected !== undefined;
}
