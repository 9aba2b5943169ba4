/**
 * What an editor lists of a file: its records, and in each the keys that hold maps or lists.
 * Laws (test/property/outline.property.test.ts):
 * - the name of an item lies within the item, and every item within the one that holds it
 * - items that stand side by side do not overlap
 * - no name is blank
 */
import { childrenOf, findEntry, type Tape, type TapeEntry } from '../syntax/tape.ts';
import { shortName } from '../text/short-name.ts';

/** An item of the outline. Offsets are half-open UTF-16 offsets. */
export interface OutlineItem {
  readonly shape: 'record' | 'map' | 'list';
  /** Id of a record, else its kind as typed; name of a key. Never blank, and cut where it is longer than any name. */
  readonly name: string;
  /** Kind of a record as typed, where it is not its name; undefined for keys. */
  readonly detail: string | undefined;
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
    shape: 'record',
    name: shortName(named?.text ?? 'No kind'),
    detail: id && kind && shortName(kind.text),
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
  return found?.text.trim() ? found : undefined;
}

/** The keys of a map that hold maps or lists; those of a list's maps count as the list's own. */
function keyItems(tape: Tape, parent: number): readonly OutlineItem[] {
  return [...childrenOf(tape, parent)].flatMap((child) => {
    const entry = tape.entries[child];
    if (entry?.kind !== 'map' && entry?.kind !== 'list') return [];
    const children = keyItems(tape, child);
    const { key, keyStart, keyEnd, end } = entry;
    if (key === undefined) return children;
    return {
      ...{ shape: entry.kind, name: key.trim() === '' ? '""' : shortName(key), detail: undefined },
      ...{ start: keyStart, end, nameStart: keyStart, nameEnd: keyEnd, children },
    };
  });
}
