import type { Finding, Place } from '../core/checks/finding.ts';
import { type FoundAt, inOrder, resolveEach } from '../core/checks/resolve-findings.ts';
import { tapesOf } from './open-base.ts';

/** The content ids that files have now; undefined of a file that is what it was. */
interface ContentIds {
  contentIdOf(path: string): string | undefined;
}

/** Findings of a run with places in files that may hold other bytes than in that run and say the same. Only what moved is looked up. */
export async function placeAgain(
  root: string,
  found: readonly FoundAt[],
  ids: ContentIds,
): Promise<readonly FoundAt[]> {
  const moved: Finding[] = [];
  const kept = found.filter(([, finding]) => {
    const now = inFilesNow(finding, ids);
    if (now !== finding) moved.push(now);
    return now === finding;
  });
  return inOrder([...kept, ...resolveEach(moved, await tapesOf(root, moved))]);
}

/** Findings with their places; those that an earlier run has found as well, in files that are as they were, have the places they had. */
export async function placeWith(
  earlier: readonly FoundAt[],
  root: string,
  findings: readonly Finding[],
): Promise<readonly FoundAt[]> {
  const known = new Map(earlier.map(([shown, finding]) => [JSON.stringify(finding), shown]));
  const fresh: Finding[] = [];
  const kept: FoundAt[] = [];
  for (const finding of findings) {
    const shown = known.get(JSON.stringify(finding));
    if (shown) kept.push([shown, finding]);
    else fresh.push(finding);
  }
  return inOrder([...kept, ...resolveEach(fresh, await tapesOf(root, fresh))]);
}

/** The finding in the same files with the content they have; the same object where that is what they had. */
export function inFilesNow(finding: Finding, ids: ContentIds): Finding {
  const idOf = ({ file, contentId }: Pick<Place, 'file' | 'contentId'>): string => ids.contentIdOf(file) ?? contentId;
  const isSame = (place: Pick<Place, 'file' | 'contentId'>): boolean => idOf(place) === place.contentId;
  const { place, related, fixes } = finding;
  if (isSame(place) && related.every((other) => isSame(other.place))) return finding;
  return {
    ...finding,
    place: { ...place, contentId: idOf(place) },
    related: related.map((other) => ({ ...other, place: { ...other.place, contentId: idOf(other.place) } })),
    fixes: fixes.map((fix) => ({ ...fix, contentId: idOf(fix) })),
  };
}
