/**
 * The bases that a review compares, out of a repository: as it was where two revisions parted (`before`), as one of them has it
 * (`after`), as the other has it by now (`theirs`), and as the two would be together (`merged`). All are of one family, so that what
 * they share is worked out once.
 */

import { join } from 'node:path';
import type { Snapshot } from '../../core/index/snapshot.ts';
import { quotedList } from '../../core/text/quoted-list.ts';
import { BlobFacts } from './blob-facts.ts';
import { findRoots } from './find-roots.ts';
import { GitTrouble } from './git-trouble.ts';
import { mergeSnapshots } from './merge-snapshots.ts';
import { findParting } from './parting.ts';
import { readContents } from './read-contents.ts';
import { leftOut, type OpenTree, openRevisionBase, openTree, type RevisionBase } from './revision-base.ts';
import type { DiskSide, RevisionRequest } from './revision-request.ts';
import { SnapshotMaker, withoutSubmodules } from './snapshot-maker.ts';

/** The bases of a review. */
export interface OpenRevisions {
  readonly before: Snapshot;
  readonly after: Snapshot;
  /** Absent where the base has not moved on since. */
  readonly merge?: { readonly theirs: Snapshot; readonly merged: Snapshot };
  /** Folder of the base relative to the top, as `after` has it, else as `before` has it. */
  readonly root: string;
  /** Contents of the merged base that neither side has, by their ids. */
  readonly mergedContents: ReadonlyMap<string, Uint8Array>;
  /** Absolute folder of the base on the disk; undefined where a revision is judged. */
  readonly diskRoot: string | undefined;
  /** What a reader has to know of how the bases were found: sentences. */
  readonly notes: readonly string[];
}

/** Opens the bases of a review. Throws `GitTrouble` where they cannot be had. */
export async function openRevisions(request: RevisionRequest): Promise<OpenRevisions> {
  const { repository, base, head } = request;
  const parting = await findParting(repository, base, head);
  const open = (commit: string | undefined) => (commit === undefined ? undefined : openTree(repository, commit));
  const [beforeTree, afterTree, theirsTree] = await Promise.all([
    openTree(repository, parting.before),
    open(parting.after),
    open(parting.theirs),
  ]);
  const disk = head === undefined ? await request.openDisk() : undefined;
  const roots = findRoots(request, { before: beforeTree, after: afterTree, theirs: theirsTree }, disk);
  const openBase = (tree: OpenTree | undefined, root: string | undefined) =>
    tree && root !== undefined ? openRevisionBase(repository, tree, root) : undefined;
  const bases = await Promise.all([
    openBase(beforeTree, roots.before),
    openBase(afterTree, roots.after),
    openBase(theirsTree, roots.theirs),
  ]);
  refuseUnusable(request, bases[1]);
  const root = roots.after ?? roots.before ?? '';
  const maker = new SnapshotMaker(await loadContents(request, { bases, root, disk }));
  const [beforeBase, afterBase, theirsBase] = bases;
  const after = await (disk && beforeBase
    ? withoutSubmodules(disk.snapshot, beforeBase.host)
    : (disk?.snapshot ?? maker.first(afterBase)));
  const before = await maker.near(after, beforeBase);
  const diskRoot = disk && join(repository.folder, disk.root);
  const notes = [...parting.notes, ...roots.notes, ...notesOn(request, bases)];
  const unmerged = { before, after, root, diskRoot, notes, mergedContents: new Map() };
  // Of a base that is gone or cannot be read nothing is to be learnt about a merge.
  if (!theirsBase?.configFile.reading.isUsable) return unmerged;
  const theirs = await maker.near(before, theirsBase);
  const sides = { before, after, theirs };
  const merged = await mergeSnapshots(sides, (wanted) => readContents(wanted, { repository, diskRoot }));
  if ('conflicts' in merged) return { ...unmerged, notes: [...notes, conflictNote(base, merged.conflicts)] };
  return { ...unmerged, merge: { theirs, merged: merged.snapshot }, mergedContents: merged.contents };
}

interface Sides {
  readonly bases: readonly (RevisionBase | undefined)[];
  readonly root: string;
  readonly disk: DiskSide | undefined;
}

/** What stands in the files of all bases, of which most hold mostly the same. */
async function loadContents(
  { repository, cacheOf, loader }: RevisionRequest,
  { bases, root, disk }: Sides,
): Promise<BlobFacts> {
  const facts = new BlobFacts(repository, { cache: cacheOf(root), loader });
  for (const file of disk?.snapshot.files.values() ?? []) facts.put(file.contentId, file.facts);
  const idsOf = (base: RevisionBase | undefined): string[] =>
    (base?.listing.paths ?? []).map((path) => base?.host.tree.get(path)?.id ?? '');
  await facts.load(bases.flatMap(idsOf));
  const absent = bases.flatMap((base) =>
    (base?.listing.paths ?? []).filter((path) => facts.isAbsent(base?.host.tree.get(path)?.id ?? '')),
  );
  const [first] = absent;
  if (first === undefined) return facts;
  throw leftOut(absent.length, first);
}

function conflictNote(base: string, conflicts: readonly string[]): string {
  const names = quotedList(conflicts.slice(0, mostNamed));
  const others = conflicts.length > mostNamed ? ` and ${conflicts.length - mostNamed} more` : '';
  return `\`${base}\` has meanwhile changed ${names}${others} as well, and here that cannot be put together with this change, so that nothing is said of what a merge would bring.`;
}

/** Files in conflict that are named. */
const mostNamed = 5;

function refuseUnusable({ head }: RevisionRequest, after: RevisionBase | undefined): void {
  if (after?.configFile.reading.isUsable === false) {
    throw new GitTrouble(`The base in \`${head ?? ''}\` has a config that cannot be used.`, 'swaplore lint says why.');
  }
}

function* notesOn(
  { base }: RevisionRequest,
  [before, after, theirs]: readonly (RevisionBase | undefined)[],
): Generator<string> {
  if (before?.configFile.reading.isUsable === false) {
    yield `The config of \`${base}\` could not be used where the change began, so that all records count as added.`;
  }
  if (theirs?.configFile.reading.isUsable === false) {
    yield `The config of \`${base}\` cannot be used, so that nothing is said of what a merge would bring.`;
  }
  const submodules = new Set<string>();
  for (const side of [before, after, theirs]) {
    for (const path of side?.host.submodulesIn(side.configFile.reading.config.ignore) ?? []) submodules.add(path);
  }
  for (const path of submodules) yield `\`${path}\` is a submodule; what lies in it is not compared.`;
}
