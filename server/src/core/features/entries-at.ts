import { childrenOf, type Tape, type TapeEntry } from '../syntax/tape.ts';

/** An entry around an offset, and the step that leads to it from the one before: a key, a list position, or that of a document. */
export interface EntryAt {
  readonly entry: TapeEntry;
  readonly step: string | number;
}

/**
 * The entries around an offset from a document's root inwards, each with its key; empty outside all documents. The last may be
 * left by its key alone. Where one entry ends and the next begins, as after block text, the offset belongs to the later one.
 */
export function entriesAt(tape: Tape, offset: number): readonly EntryAt[] {
  const found: EntryAt[] = [];
  let siblings = tape.documents.map(({ root }) => root);
  for (;;) {
    const position = siblings.findLastIndex((index) => holds(tape.entries[index], offset));
    const index = siblings[position];
    const entry = index === undefined ? undefined : tape.entries[index];
    if (index === undefined || !entry) return found;
    found.push({ entry, step: entry.key ?? position });
    siblings = [...childrenOf(tape, index)];
  }
}

function holds(entry: TapeEntry | undefined, offset: number): boolean {
  if (!entry) return false;
  const start = entry.keyStart >= 0 ? entry.keyStart : entry.start;
  return start <= offset && offset <= Math.max(entry.keyEnd, entry.end);
}
