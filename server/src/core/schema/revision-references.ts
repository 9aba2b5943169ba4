import type { Path } from '../syntax/tape.ts';
import { splitRevision } from '../terms/revision-name.ts';
import { findKeyRow } from './key-rows.ts';
import { referencesIn } from './references.ts';
import { textFinder } from './text-finder.ts';

/** A value that names a revision of a board. */
export interface RevisionReference {
  /** Id of the board; undefined where it is the board that holds the value. */
  readonly board: string | undefined;
  readonly rev: string;
  readonly path: Path;
}

const paths = { ofDrive: ['board', 'rev'], ofBoard: ['revisions', 'drop_in_for'] } as const;

const findBareNames = textFinder(
  (row) => row === findKeyRow('drive', paths.ofDrive) || row === findKeyRow('board', paths.ofBoard),
);

/** The values in a record's data that name a revision: a drive's own, the claims of a board, and those that conditions write BOARD/REV. */
export function revisionReferencesIn(node: string, data: unknown): readonly RevisionReference[] {
  if (node === 'board')
    return findBareNames(node, data).map(({ text, path }) => ({ board: undefined, rev: text, path }));
  if (node === 'drive') {
    const board = referencesIn(node, data).find(({ refersTo }) => refersTo === 'board')?.id;
    return board === undefined ? [] : findBareNames(node, data).map(({ text, path }) => ({ board, rev: text, path }));
  }
  return referencesIn(node, data).flatMap(({ refersTo, id, path }) => {
    const { board, rev } = splitRevision(id);
    // Data that no schema was held against may lack either.
    return refersTo === 'revision' && board !== '' && rev !== '' ? { board, rev, path } : [];
  });
}
