import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { configPath } from '../../core/checks/config-invalid.ts';
import { basesAround } from './bases-in-tree.ts';
import { GitTrouble } from './git-trouble.ts';
import type { OpenTree } from './revision-base.ts';
import type { DiskSide, RevisionRequest } from './revision-request.ts';

/** The folders of one base in the revisions of a review, relative to the top; undefined where a revision has no such base. */
export interface Roots {
  readonly before: string | undefined;
  readonly after: string | undefined;
  readonly theirs: string | undefined;
  readonly notes: readonly string[];
}

/** The revisions of a review. */
interface Trees {
  readonly before: OpenTree;
  /** Undefined where the files on the disk are judged. */
  readonly after: OpenTree | undefined;
  readonly theirs: OpenTree | undefined;
}

/** Finds the base that is asked for in every revision. One that is alone in having gone counts as moved. Throws `GitTrouble` where there is none. */
export function findRoots(request: RevisionRequest, trees: Trees, disk: DiskSide | undefined): Roots {
  const { base, head, folder } = request;
  const after = disk ? disk.root : trees.after && theOne(trees.after, folder, `\`${head ?? ''}\``);
  const parted = trees.theirs ? `the revision where \`${base}\` and its counterpart parted` : `\`${base}\``;
  const before = after === undefined ? theOne(trees.before, folder, parted) : findBefore(after, request, trees);
  if (before === undefined && after === undefined) {
    throw new GitTrouble(
      `Neither revision has a swaplore.yaml in, above or below ${folder === '' ? 'the top of the repository' : folder}.`,
      'A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".',
    );
  }
  const theirs = [before, after].find((root) => root !== undefined && trees.theirs?.bases.includes(root));
  const gone =
    trees.theirs && theirs === undefined
      ? [`\`${base}\` has this base no longer, so that nothing is said of what a merge would bring.`]
      : [];
  return { before, after, theirs, notes: [...notesOn(before, after, request), ...gone] };
}

function theOne({ bases }: OpenTree, folder: string, where: string): string | undefined {
  const around = basesAround(bases, folder);
  if (around.length > 1) {
    throw new GitTrouble(
      `There are several bases in ${where}: ${around.map(shown).join(', ')}.`,
      'Name one with --folder.',
    );
  }
  return around[0];
}

function findBefore(after: string, { repository }: RevisionRequest, trees: Trees): string | undefined {
  if (trees.before.bases.includes(after)) return after;
  const isStillThere = (root: string): boolean =>
    trees.after ? trees.after.bases.includes(root) : existsSync(join(repository.folder, root, configPath));
  const gone = trees.before.bases.filter((root) => !isStillThere(root));
  return gone.length === 1 ? gone[0] : undefined;
}

function* notesOn(
  before: string | undefined,
  after: string | undefined,
  { base, head }: RevisionRequest,
): Generator<string> {
  const judged = head === undefined ? 'on the disk' : `in \`${head}\``;
  if (before === undefined)
    yield `\`${base}\` has no base in ${shown(after ?? '')}, so that all records count as added.`;
  else if (after === undefined)
    yield `The base in ${shown(before)} is not ${judged} any more, so that all records count as removed.`;
  else if (before !== after) yield `The base lay in ${shown(before)} and lies in ${shown(after)} now.`;
}

function shown(root: string): string {
  return root === '' ? 'the top folder' : `\`${root}\``;
}
