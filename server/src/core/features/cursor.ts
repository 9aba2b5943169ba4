/**
 * What stands at an offset of a file: the question nearly every feature begins with.
 * Laws (test/property/cursor.property.test.ts):
 * - the cursor of a key or value leads back to it by its path
 * - no offset of any text, whole or cut off, makes it throw
 */
import { configPath } from '../checks/config-invalid.ts';
import { findKeyRow, type KeyRow } from '../schema/key-rows.ts';
import { childrenOf, type Path, type Tape, type TapeEntry } from '../syntax/tape.ts';
import { type Kind, kinds } from '../terms/kinds.ts';

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
  for (const [document, { root }] of tape.documents.entries()) {
    if (root < 0 || !isInside(tape, root, offset)) continue;
    const node = nodeOf(file, tape, root);
    const found = descend(tape, root, offset);
    if (!found) return undefined;
    const row = node === undefined ? undefined : findKeyRow(node, found.path);
    return { document, node, row, ...found };
  }
  return undefined;
}

/** What kind of map a document is: its `kind`, or `config` in the base's config; undefined where the kind is absent or unknown. */
function nodeOf(file: string, tape: Tape, root: number): Kind | 'config' | undefined {
  if (file === configPath) return 'config';
  for (const child of childrenOf(tape, root)) {
    const entry = tape.entries[child];
    if (entry?.key === 'kind') return kinds.find((kind) => kind === entry.text);
  }
  return undefined;
}

type Found = Pick<Cursor, 'path' | 'side' | 'entry' | 'start' | 'end'>;

function descend(tape: Tape, root: number, offset: number): Found | undefined {
  const path: (string | number)[] = [];
  for (let at = root; ; ) {
    const parent = tape.entries[at];
    if (!parent) return undefined;
    if (parent.kind !== 'map' && parent.kind !== 'list') return valueAt(parent, path, offset);
    let position = -1;
    let next: number | undefined;
    for (const child of childrenOf(tape, at)) {
      position++;
      const entry = tape.entries[child];
      if (!entry) continue;
      const step = parent.kind === 'map' ? (entry.key ?? '') : position;
      if (entry.keyStart >= 0 && entry.keyStart <= offset && offset <= entry.keyEnd) {
        return { path: [...path, step], side: 'key', entry, start: entry.keyStart, end: entry.keyEnd };
      }
      if (entry.start <= offset && offset <= entry.end && entry.kind !== 'empty') {
        path.push(step);
        next = child;
        break;
      }
    }
    if (next === undefined) return undefined;
    at = next;
  }
}

function valueAt(entry: TapeEntry, path: Path, offset: number): Found | undefined {
  const isOn = entry.kind !== 'empty' && entry.start <= offset && offset <= entry.end;
  return isOn ? { path, side: 'value', entry, start: entry.start, end: entry.end } : undefined;
}

function isInside(tape: Tape, root: number, offset: number): boolean {
  const entry = tape.entries[root];
  return entry !== undefined && entry.start <= offset && offset <= entry.end;
}
