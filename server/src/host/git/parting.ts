import type { Repository } from './repository.ts';
import { findHead, findMergeBase, getCommit } from './revision.ts';

/** The commits that a review compares. */
export interface Parting {
  /** Where the two parted. */
  readonly before: string;
  /** Undefined where the files on the disk are compared. */
  readonly after: string | undefined;
  /** What the base has become since; undefined where it is still what it was. */
  readonly theirs: string | undefined;
  readonly notes: readonly string[];
}

/** The commits behind two names; without the second the files on the disk count, which come from HEAD. Throws `GitTrouble`. */
export async function findParting(repository: Repository, base: string, head: string | undefined): Promise<Parting> {
  const theirs = await getCommit(repository, base);
  const after = head === undefined ? undefined : await getCommit(repository, head);
  const mine = after ?? (await findHead(repository));
  // Without a commit of its own nothing can have parted.
  if (mine === undefined || mine === theirs) return { before: theirs, after, theirs: undefined, notes: [] };
  const before = await findMergeBase(repository, theirs, mine);
  if (before !== undefined) return { before, after, theirs: before === theirs ? undefined : theirs, notes: [] };
  const why = repository.isShallow
    ? 'this clone is shallow and does not reach back to where they parted'
    : 'they share no history';
  const notes = [
    `\`${base}\` and ${head === undefined ? 'the files on the disk' : `\`${head}\``} are compared as they are: ${why}. What \`${base}\` alone has changed is shown the other way round.`,
  ];
  return { before: theirs, after, theirs: undefined, notes };
}
