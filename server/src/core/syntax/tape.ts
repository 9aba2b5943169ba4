/**
 * Invariant 5: both readers give this tape, and everything after them sees nothing else.
 * A tape is flat: an entry follows its parent, and `skip` leads past all that lies inside it. There are no nodes, no comments
 * and no parser types here; comments matter to edits only, and those read the text again.
 */

/** What stands at an entry: a map, a list, a scalar by its style, an alias, or nothing at all (`key:`). */
export type EntryKind = 'map' | 'list' | 'plain' | 'quoted' | 'block' | 'alias' | 'empty';

/** A stretch of text in half-open UTF-16 offsets. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** One value with the key it stands under. Offsets are half-open UTF-16 offsets into the text. */
export interface TapeEntry {
  readonly kind: EntryKind;
  /** Key as read; undefined for list items and roots. */
  readonly key: string | undefined;
  readonly keyStart: number;
  readonly keyEnd: number;
  readonly start: number;
  readonly end: number;
  /** Index of the first entry after this one and all inside it. */
  readonly skip: number;
  /** Scalars: the text after quotes, escapes and folding are undone. Otherwise empty. */
  readonly text: string;
  /** Tag as written out in full; undefined where there is none. */
  readonly tag: string | undefined;
  /** Aliases: the entry whose value this one repeats, or -1 where no anchor of that name stands before it. */
  readonly target: number;
}

/** One document of a file. */
export interface TapeDocument {
  /** Index of the root entry, or -1 where the document holds nothing. */
  readonly root: number;
  /** True where the reader found a fault: what is on the tape then is a guess, good for ids and outlines only. */
  readonly isBroken: boolean;
}

/** All that a reader learns from a text. */
export interface Tape {
  readonly text: string;
  readonly entries: readonly TapeEntry[];
  readonly documents: readonly TapeDocument[];
}

/** Key names and list positions from a document's root down to a value. */
export type Path = readonly (string | number)[];

/** Indices of the entries directly inside a map or list, in order; none for anything else. */
export function* childrenOf(tape: Tape, parent: number): Generator<number> {
  const end = tape.entries[parent]?.skip ?? 0;
  let child = parent + 1;
  while (child < end) {
    yield child;
    child = tape.entries[child]?.skip ?? end;
  }
}

/**
 * The entry at a path below `root`, or the nearest one above it that exists, and whether the whole path was found.
 * Of keys given twice the first counts. Inside an alias the alias itself is the nearest: the text to edit may belong to others.
 */
export function findEntry(tape: Tape, root: number, path: Path): { readonly entry: number; readonly depth: number } {
  let entry = root;
  for (const [depth, step] of path.entries()) {
    const child = findChild(tape, entry, step);
    if (child === undefined) return { entry, depth };
    entry = child;
  }
  return { entry, depth: path.length };
}

function findChild(tape: Tape, parent: number, step: string | number): number | undefined {
  const kind = tape.entries[parent]?.kind;
  if (kind !== 'map' && kind !== 'list') return undefined;
  let position = 0;
  for (const child of childrenOf(tape, parent)) {
    if (kind === 'map' ? tape.entries[child]?.key === step : position === step) return child;
    position++;
  }
  return undefined;
}
