/**
 * What an editor lists of a file: its records, and in each the keys that hold maps or lists.
 * Laws (test/property/outline.property.test.ts):
 * - the name of an item lies within the item, and every item within the one that holds it
 * - items that stand side by side do not overlap
 */
import { childrenOf, findEntry, type Tape, type TapeEntry } from '../syntax/tape.ts';

/** An item of the outline. Offsets are half-open UTF-16 offsets. */
export interface OutlineItem {
  /** Id of a record, else its kind, else empty; name of a key. */
  readonly name: string;
  /** Kind of a record as typed; undefined for keys and where none is typed. */
  readonly kind: string | undefined;
  readonly start: number;
  readonly end: number;
  /** Where the name stands, within the item. */
  readonly nameStart: number;
  readonly nameEnd: number;
  readonly children: readonly OutlineItem[];
}

/** The outline of a file, in the order of the text; documents that hold no map have none. */
export function outlineOf(tape: Tape): readonly OutlineItem[] {
  return tape.documents.flatMap(({ root }) => {
    const entry = tape.entries[root];
    return entry?.kind === 'map' ? recordItem(tape, root, entry) : [];
  });
}

function recordItem(tape: Tape, root: number, { start, end }: TapeEntry): OutlineItem {
  const id = scalarOf(tape, root, 'id');
  const kind = scalarOf(tape, root, 'kind');
  const named = id ?? kind;
  return {
    name: named?.text ?? '',
    kind: kind?.text,
    start,
    end,
    nameStart: named?.start ?? start,
    nameEnd: named?.end ?? start,
    children: keyItems(tape, root),
  };
}

/** The scalar under a key of a record, if there is one. */
function scalarOf(tape: Tape, root: number, key: string): TapeEntry | undefined {
  const { entry, depth } = findEntry(tape, root, [key]);
  const found = depth === 1 ? tape.entries[entry] : undefined;
  return found?.text ? found : undefined;
}

/** The keys of a map that hold maps or lists; those of a list's maps count as the list's own. */
function keyItems(tape: Tape, parent: number): readonly OutlineItem[] {
  return [...childrenOf(tape, parent)].flatMap((child) => {
    const entry = tape.entries[child];
    if (entry?.kind !== 'map' && entry?.kind !== 'list') return [];
    const children = keyItems(tape, child);
    const { key, keyStart, keyEnd, end } = entry;
    if (key === undefined) return children;
    return { name: key, kind: undefined, start: keyStart, end, nameStart: keyStart, nameEnd: keyEnd, children };
  });
}
