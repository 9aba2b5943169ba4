/**
 * Where what stands at a cursor is declared.
 * Laws (test/property/definition.property.test.ts):
 * - every reference to a record leads to its id, and that id to itself
 * - no offset of any text, whole or damaged, makes it throw
 */
import type { Place } from '../checks/finding.ts';
import type { TapeEntry } from '../syntax/tape.ts';
import { findCursor } from './cursor.ts';
import { mentionAt } from './mentions.ts';
import type { OpenFile } from './open-file.ts';
import { declarationsOf } from './record-places.ts';

/** What is declared somewhere, and where. Offsets are half-open UTF-16 offsets in the open file. */
export interface Definition {
  readonly start: number;
  readonly end: number;
  /** Several where an id was given twice, none where it is not recorded. */
  readonly places: readonly Place[];
}

/**
 * Of a reference, or of a record's own id, where that id is declared; a revision leads to its board's list, an alias to its anchor.
 * Undefined where nothing is named.
 */
export function definitionAt(file: OpenFile, offset: number): Definition | undefined {
  const alias = findCursor(file, offset)?.entry;
  if (alias?.kind === 'alias') return { start: alias.start, end: alias.end, places: anchorOf(file, alias) };
  const mention = mentionAt(file.tape, offset);
  return mention && { start: mention.start, end: mention.end, places: declarationsOf(file, mention) };
}

/** The anchor an alias repeats; none where there is none. */
function anchorOf({ path: file, tape, snapshot }: OpenFile, alias: TapeEntry): readonly Place[] {
  const value = tape.entries[alias.target];
  if (!value) return [];
  const name = `&${tape.text.slice(alias.start, alias.end).slice(1)}`;
  // A tag may stand between the two, but no other anchor of this name.
  const at = tape.text.lastIndexOf(name, value.start);
  const target = at < 0 ? { start: value.start, end: value.start } : { start: at, end: at + name.length };
  return [{ file, contentId: snapshot.files.get(file)?.contentId ?? '', target }];
}
