/**
 * All that refers to the record or revision at a cursor, over the whole base.
 * Laws (test/property/references.property.test.ts):
 * - the references of what a reference names hold that reference
 * - every reference found names what was asked for
 */
import type { Place } from '../checks/finding.ts';
import { referrersOf } from '../index/referrers.ts';
import type { Snapshot, Standing } from '../index/snapshot.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { mentionAt, mentionsOf } from './mentions.ts';
import { isSameName, type Named, namesIn } from './names-in.ts';
import type { OpenFile } from './open-file.ts';
import { declarationsOf, isOutsideRecords, placeIn, placeOf } from './record-places.ts';

/**
 * The places that refer to what stands at the cursor, by file and document; its declarations before them where they are wanted. Ids
 * that nobody recorded, or that were given twice, have references too. Broken documents of other files are not looked into.
 */
export function referencesAt(
  file: OpenFile,
  offset: number,
  { withDeclaration }: { readonly withDeclaration: boolean },
): readonly Place[] {
  const named = mentionAt(file.tape, offset);
  if (!named) return [];
  return [...(withDeclaration ? declarationsOf(file, named) : []), ...referencesTo(file, named)];
}

function referencesTo(file: OpenFile, named: Named): readonly Place[] {
  const recorded = standingsThatMayName(file.snapshot, named).flatMap((standing) => {
    const { record, document } = standing;
    return namesIn(record)
      .filter((name) => isSameName(name, named))
      .map(({ path }) => ({ document, place: placeIn(standing, path) }));
  });
  const unread = mentionsOf(file.tape)
    .filter((mention) => !mention.isDeclaration && isSameName(mention, named) && isOutsideRecords(file, mention))
    .map((mention) => ({ document: mention.document, place: placeOf(file, mention) }));
  return [...recorded, ...unread]
    .sort((a, b) => byCodeUnits(a.place.file, b.place.file) || a.document - b.document)
    .map(({ place }) => place);
}

/** The records that name the id, those whose own id was taken before included, and the board itself, which names its revisions. */
function standingsThatMayName(snapshot: Snapshot, { kind, id, rev }: Named): readonly Standing[] {
  const own = rev === undefined ? [] : snapshot.standings(kind, id);
  const standing = Array.from(referrersOf(id, snapshot), (record) => snapshot.locate(record));
  const again = Array.from(snapshot.duplicates(), (duplicate) => duplicate.again);
  return [...new Set([...own, ...standing, ...again])];
}
