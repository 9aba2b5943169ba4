/**
 * What stands at an offset of a file: the question nearly every feature begins with.
 * Laws (test/property/cursor.property.test.ts):
 * - the cursor of a key or value leads back to it by its path
 * - no offset of any text, whole or cut off, makes it throw
 */
import { configPath } from '../checks/config-invalid.ts';
import { findKeyRow, type KeyRow } from '../schema/key-rows.ts';
import { findEntry, type Path, type Tape, type TapeEntry } from '../syntax/tape.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { entriesAt } from './entries-at.ts';

/** The key or the scalar value that an offset stands on or at the end of. */
export interface Cursor {
  /** Position of the document in the file, counted from 0. */
  readonly document: number;
  /** Node id of the document's outermost map: its kind, or `config`; undefined where the kind is not known. */
  readonly node: Kind | 'config' | undefined;
  readonly path: Path;
  readonly side: 'key' | 'value';
  readonly entry: TapeEntry;
  /** What the schema says of the key the path ends in, list positions left out; undefined for keys no schema knows. */
  readonly row: KeyRow | undefined;
  /** Half-open UTF-16 offsets of the key or value alone. */
  readonly start: number;
  readonly end: number;
}

/** The key or scalar value at an offset; undefined between them, in comments, and where nothing could be read. */
export function findCursor(
  { path: file, tape }: { readonly path: string; readonly tape: Tape },
  offset: number,
): Cursor | undefined {
  const [root, ...inside] = entriesAt(tape, offset);
  const entry = (inside.at(-1) ?? root)?.entry;
  const at = entry && sideAt(entry, offset);
  if (!root || !at) return undefined;
  const document = Number(root.step);
  const path = inside.map(({ step }) => step);
  const node = nodeOf(file, tape, tape.documents[document]?.root ?? -1);
  return { document, node, path, entry, row: node === undefined ? undefined : findKeyRow(node, path), ...at };
}

/** What kind of map a document is; undefined where that is absent or unknown. */
export function nodeOf(file: string, tape: Tape, root: number): Cursor['node'] {
  if (file === configPath) return 'config';
  const { entry, depth } = findEntry(tape, root, ['kind']);
  return depth === 1 ? kinds.find((kind) => kind === tape.entries[entry]?.text) : undefined;
}

function sideAt(entry: TapeEntry, offset: number): Pick<Cursor, 'side' | 'start' | 'end'> | undefined {
  const { kind, keyStart, keyEnd, start, end } = entry;
  if (keyStart >= 0 && keyStart <= offset && offset <= keyEnd) return { side: 'key', start: keyStart, end: keyEnd };
  const isScalar = kind !== 'map' && kind !== 'list' && kind !== 'empty';
  return isScalar && start <= offset && offset <= end ? { side: 'value', start, end } : undefined;
}
