/**
 * Where a file declares and names records and revisions, as far as it can be read: also in documents that are broken or have no id yet.
 * Laws (test/property/mentions.property.test.ts):
 * - what a record names is mentioned where it stands
 * - no text, whole or damaged, makes it throw, and every mention lies within the text
 */
import { buildData } from '../syntax/build-data.ts';
import type { Tape, TapeEntry } from '../syntax/tape.ts';
import { kinds } from '../terms/kinds.ts';
import { remembered } from '../terms/remembered.ts';
import { entryAtPath } from './entry-at-path.ts';
import { type NameAt, type Named, namesIn } from './names-in.ts';

/** A place in a text that declares a record or a revision, or refers to one. Offsets are half-open UTF-16 offsets. */
export interface Mention extends NameAt {
  readonly isDeclaration: boolean;
  /** Position of the document in the file, counted from 0. */
  readonly document: number;
  /** The value; of one written BOARD/REV the part that names the board, or the revision; an alias where the value stands by alias. */
  readonly start: number;
  readonly end: number;
}

/** All mentions of a file, document by document, worked out once for each tape. */
export const mentionsOf = remembered((tape: Tape): readonly Mention[] =>
  tape.documents.flatMap(({ root }, document) => (root < 0 ? [] : mentionsIn(tape, root, document))),
);

/** The mention at an offset or ending there, in a file of records; undefined where nothing is named. */
export function mentionAt(tape: Tape, offset: number): Mention | undefined {
  return mentionsOf(tape).find(({ start, end }) => start <= offset && offset <= end);
}

function mentionsIn(tape: Tape, root: number, document: number): readonly Mention[] {
  const data = buildData(tape, root).data as { readonly [key: string]: unknown } | null | undefined;
  const kind = kinds.find((known) => known === data?.['kind']);
  if (!data || !kind) return [];
  const id = typeof data['id'] === 'string' ? data['id'] : undefined;
  const record: Named | undefined = id === undefined ? undefined : { kind, id, rev: undefined };
  const declared: readonly NameAt[] = record ? [{ ...record, path: ['id'] }, ...revisionsOf(record, data)] : [];
  const isDeclared = new Set(declared);
  return [...declared, ...namesIn({ kind, id, data })].flatMap((name) => {
    const entry = entryAtPath(tape, root, name.path);
    const isDeclaration = isDeclared.has(name);
    return entry ? { ...name, isDeclaration, document, ...partOf(tape, entry, name) } : [];
  });
}

/** The revisions that a board lists, named as the board names them. */
export function revisionsOf({ kind, id }: Named, { revisions }: { readonly revisions?: unknown }): readonly NameAt[] {
  if (kind !== 'board' || !Array.isArray(revisions)) return [];
  return revisions.flatMap((revision: { readonly rev?: unknown } | null, position) =>
    typeof revision?.rev === 'string' ? { kind, id, rev: revision.rev, path: ['revisions', position, 'rev'] } : [],
  );
}

/** What of a value bears the name: the part of one written BOARD/REV, where it stands as it is read. */
function partOf(tape: Tape, { start, end, text }: TapeEntry, { id, rev }: Named): Pick<Mention, 'start' | 'end'> {
  const at = text.startsWith(`${id}/`) ? tape.text.slice(start, end).indexOf(text) : -1;
  if (at < 0) return { start, end };
  const slash = start + at + id.length;
  return rev === undefined ? { start: start + at, end: slash } : { start: slash + 1, end: start + at + text.length };
}
