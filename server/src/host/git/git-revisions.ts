import { relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Snapshot } from '../../core/index/snapshot.ts';
import { BaseCache } from '../disk/base-cache.ts';
import { isInside } from '../disk/is-inside.ts';
import { realFolder } from '../disk/real-folder.ts';
import type { RevisionReader, RevisionSides } from '../revision-reader.ts';
import type { GitProgram } from './find-git.ts';
import { GitTrouble } from './git-trouble.ts';
import { openRevisions } from './open-revisions.ts';
import { findRepository } from './repository.ts';
import { runGit } from './run-git.ts';

/** What revisions are read with. */
export interface GitRevisionsOptions {
  readonly git: GitProgram;
  /** Folder for what this very build remembers; undefined where nothing is remembered. */
  readonly cacheFolder: string | undefined;
  /** Program of further threads; undefined where there is none. */
  readonly loader: string | undefined;
}

/** Revisions of bases that lie in git repositories on this machine's disks. */
export class GitRevisions implements RevisionReader {
  constructor(private readonly options: GitRevisionsOptions) {}

  branches(root: string): Promise<readonly string[] | { readonly reason: string }> {
    return orReason(async () => {
      const repository = await findRepository(this.options.git, await realFolder(fileURLToPath(root)));
      // Names that stand for other branches, such as that of a remote alone, are left out.
      const format = '--format=%(if)%(symref)%(then)%(else)%(refname:short)%(end)';
      const words = ['for-each-ref', format, '--sort=-committerdate', 'refs/heads', 'refs/remotes'];
      const { stdout } = await runGit(repository.git, repository.folder, words);
      const names = stdout.toString('utf8').split('\n');
      return names.filter((name) => name !== '');
    });
  }

  compare(root: string, revision: string, now: Snapshot): Promise<RevisionSides | { readonly reason: string }> {
    const { git, cacheFolder, loader } = this.options;
    return orReason(async () => {
      const folder = await realFolder(fileURLToPath(root));
      const repository = await findRepository(git, folder);
      if (!isInside(repository.folder, folder)) throw new GitTrouble(`${folder} lies in no git repository.`);
      const below = relative(repository.folder, folder).split(sep).join('/');
      return openRevisions({
        ...{ repository, base: revision, folder: below, loader },
        openDisk: async () => ({ root: below, snapshot: now }),
        cacheOf: () => (cacheFolder === undefined ? undefined : BaseCache.of(folder, cacheFolder)),
      });
    });
  }
}

/** What comes of reading, or why it could not be done in the words meant for whoever asked. */
async function orReason<Result>(read: () => Promise<Result>): Promise<Result | { readonly reason: string }> {
  try {
    return await read();
  } catch (error) {
    if (error instanceof GitTrouble) return { reason: [error.message, error.help ?? ''].join(' ').trim() };
    throw error;
  }
}
