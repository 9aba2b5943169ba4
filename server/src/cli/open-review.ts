import { existsSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { BaseCache } from '../host/disk/base-cache.ts';
import { isInside } from '../host/disk/is-inside.ts';
import { realFolder } from '../host/disk/real-folder.ts';
import { GitTrouble } from '../host/git/git-trouble.ts';
import { type OpenRevisions, openRevisions } from '../host/git/open-revisions.ts';
import { findRepository, type Repository } from '../host/git/repository.ts';
import type { DiskSide, RevisionRequest } from '../host/git/revision-request.ts';
import type { Arguments, Program } from './command.ts';
import { UsageError } from './exit-codes.ts';
import { findOneBase, folderOf, memoryOf, openBaseAt } from './open-base.ts';
import type { Terminal } from './terminal.ts';

/** What is compared: names of revisions; without a head the files on the disk are judged. */
export interface Compared {
  readonly base: string;
  readonly head: string | undefined;
}

/** The bases of a review, and the repository that they come from. */
export interface OpenReview extends OpenRevisions {
  readonly repository: Repository;
}

/** Opens the bases of a review. Throws `UsageError` where they cannot be had. */
export async function openReview(
  { base, head }: Compared,
  args: Arguments,
  terminal: Terminal,
  program: Program,
): Promise<OpenReview> {
  const git = program.findGit?.();
  if (!git) throw new UsageError('The program git is not installed, or not where programs are looked for.');
  const folder = await realFolder(folderOf(args, terminal));
  try {
    const repository = await findRepository(git, folder);
    if (head === undefined && !repository.hasFiles) {
      throw new UsageError(
        'Here the repository has no files that could be compared.',
        'Name the revision to judge with --head.',
      );
    }
    const { cacheFolder, loader } = program;
    const cacheOf: RevisionRequest['cacheOf'] = (root) => {
      const at = join(repository.folder, root);
      const isRemembered = cacheFolder !== undefined && !memoryOf(args, program).isForgetful;
      return isRemembered ? BaseCache.of(existsSync(at) ? at : repository.folder, cacheFolder) : undefined;
    };
    const opened = await openRevisions({
      repository,
      base,
      ...(head === undefined ? {} : { head }),
      folder: belowTop(repository, folder),
      openDisk: () => openDisk(repository, folder, { args, terminal, program }),
      cacheOf,
      loader,
    });
    return { ...opened, repository };
  } catch (error) {
    throw error instanceof GitTrouble ? new UsageError(error.message, error.help) : error;
  }
}

async function openDisk(
  repository: Repository,
  folder: string,
  { args, terminal, program }: { readonly args: Arguments; readonly terminal: Terminal; readonly program: Program },
): Promise<DiskSide | undefined> {
  const root = existsSync(folder) ? await findOneBase(folder, terminal) : undefined;
  if (root === undefined) return undefined;
  const { snapshot } = await openBaseAt(root, terminal, memoryOf(args, program));
  return { root: belowTop(repository, root), snapshot };
}

/** A folder relative to the top of the repository, with `/`. */
function belowTop({ folder: top, hasFiles }: Repository, folder: string): string {
  if (isInside(top, folder)) return relative(top, folder).split(sep).join('/');
  // From within git's own folder everything is looked for from the top.
  if (!hasFiles) return '';
  throw new UsageError(`The base in ${folder} does not lie in the repository ${top}.`);
}
