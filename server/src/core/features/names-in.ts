import { referencesIn } from '../schema/references.ts';
import { revisionReferencesIn } from '../schema/revision-references.ts';
import type { Path } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';
import { foldText } from '../text/fold.ts';

/** A record, or a revision of a board, by what it is called. */
export interface Named {
  readonly kind: Kind;
  readonly id: string;
  /** Name of a revision of the board `id`; undefined where the record itself is meant. */
  readonly rev: string | undefined;
}

/** A name in a record's data. */
export interface NameAt extends Named {
  readonly path: Path;
}

/** Where names are looked for: a record or what could be read of one. */
interface Source {
  readonly kind: Kind;
  /** Undefined where the record has none. */
  readonly id: string | undefined;
  readonly data: unknown;
}

/** The references in a record; a revision written BOARD/REV names the board and the revision, both at its path. */
export function namesIn({ kind, id, data }: Source): readonly NameAt[] {
  const records = referencesIn(kind, data).flatMap((reference) =>
    reference.refersTo === 'revision'
      ? []
      : { kind: reference.refersTo, id: reference.id, rev: undefined, path: reference.path },
  );
  const revisions = revisionReferencesIn(kind, data).flatMap(({ board = id, rev, path }) => {
    if (board === undefined) return [];
    const revision: NameAt = { kind: 'board', id: board, rev, path };
    return kind === 'rule' ? [{ ...revision, rev: undefined }, revision] : [revision];
  });
  return [...records, ...revisions];
}

/** Whether two names mean the same record, or the same revision: these compare as values do. */
export function isSameName(a: Named, b: Named): boolean {
  if (a.kind !== b.kind || a.id !== b.id) return false;
  if (a.rev === undefined || b.rev === undefined) return a.rev === b.rev;
  return foldText(a.rev) === foldText(b.rev);
}
