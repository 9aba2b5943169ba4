import type { Place } from '../checks/finding.ts';
import type { Standing } from '../index/snapshot.ts';
import type { Path } from '../syntax/tape.ts';
import { foldText } from '../text/fold.ts';
import { type Mention, mentionsOf, revisionsOf } from './mentions.ts';
import { isSameName, type Named } from './names-in.ts';
import type { OpenFile } from './open-file.ts';

/** The value at a path of a record. */
export function placeIn({ file: { path: file, contentId }, document }: Standing, path: Path): Place {
  return { file, contentId, target: { document, path, side: 'value' } };
}

/** Whether a mention stands in a document whose record the snapshot does not have: broken, or without a usable id. */
export function isOutsideRecords({ path, snapshot }: OpenFile, { document }: Mention): boolean {
  return !snapshot.files.get(path)?.facts.records.some((placed) => placed.document === document);
}

/** The value of a mention in the open file. */
export function placeOf({ path: file, snapshot }: OpenFile, { document, path }: Mention): Place {
  const contentId = snapshot.files.get(file)?.contentId ?? '';
  return { file, contentId, target: { document, path, side: 'value' } };
}

/**
 * Where a record or revision is declared: the one that stands first, then those that have the same id. Where its file cannot be read,
 * the beginning of that file; empty where it is not recorded.
 */
export function declarationsOf(file: OpenFile, named: Named): readonly Place[] {
  const recorded = file.snapshot.standings(named.kind, named.id).flatMap((standing) => {
    if (named.rev === undefined) return placeIn(standing, ['id']);
    const path = pathOfRevision(standing, named);
    return path ? placeIn(standing, path) : [];
  });
  const unread = mentionsOf(file.tape)
    .filter((mention) => mention.isDeclaration && isSameName(mention, named) && isOutsideRecords(file, mention))
    .map((mention) => placeOf(file, mention));
  const places = [...recorded, ...unread];
  return places.length > 0 ? places : unreadableFiles(file, named);
}

/** A name that stands twice means the first. */
function pathOfRevision({ record }: Standing, { id, kind, rev = '' }: Named): Path | undefined {
  const wanted = foldText(rev);
  return revisionsOf({ id, kind, rev: undefined }, record.data as { readonly revisions?: unknown }).find(
    (revision) => foldText(revision.rev ?? '') === wanted,
  )?.path;
}

function unreadableFiles({ snapshot, path: open }: OpenFile, { kind, id, rev }: Named): readonly Place[] {
  if (rev !== undefined || !snapshot.hasBareId(kind, id)) return [];
  return [...snapshot.troubledFiles.values()]
    .filter(({ path, facts }) => {
      const isThere = facts.bareIds.some((bare) => bare.id === id && (bare.kind ?? kind) === kind);
      return isThere && path !== open;
    })
    .map(({ path: file, contentId }) => ({ file, contentId, target: { start: 0, end: 0 } }));
}
