import { findEntry, type Path, type Tape, type TapeEntry } from '../syntax/tape.ts';

/** The entry at a path below a root, or the alias by which it stands there; undefined where the path leads nowhere. */
export function entryAtPath(tape: Tape, root: number, path: Path): TapeEntry | undefined {
  const { entry, depth } = findEntry(tape, root, path);
  const found = tape.entries[entry];
  return found && (depth === path.length || found.kind === 'alias') ? found : undefined;
}
