import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import type { GitProgram } from './find-git.ts';
import { GitTrouble } from './git-trouble.ts';
import { type GitRun, runGit } from './run-git.ts';

/** A git repository that is only ever read. */
export interface Repository {
  readonly git: GitProgram;
  /** Absolute folder that git is run in: the top of the files, or the repository itself where it has none or they were not asked for. */
  readonly folder: string;
  /** Whether `folder` holds the files of a revision. */
  readonly hasFiles: boolean;
  /** Whether history was cut off when the repository was fetched. */
  readonly isShallow: boolean;
}

/** The repository that a folder lies in; the folder itself need not be there any more. Throws `GitTrouble` where there is none. */
export async function findRepository(git: GitProgram, folder: string): Promise<Repository> {
  const start = nearestFolder(folder);
  const asked = await runGit(git, start, [
    'rev-parse',
    '--is-shallow-repository',
    '--is-inside-work-tree',
    '--absolute-git-dir',
  ]);
  if (asked.status !== 0) throw noRepository(start, asked);
  // The folder comes last: its name may hold a newline.
  const [, isShallow, isInside, gitFolder = ''] = /^(\w+)\n(\w+)\n(.*)\n$/s.exec(asked.stdout.toString('utf8')) ?? [];
  const hasFiles = isInside === 'true';
  const top = hasFiles ? await runGit(git, start, ['rev-parse', '--show-toplevel']) : undefined;
  const at = top?.status === 0 ? top.stdout.toString('utf8').replace(/\n$/, '') : gitFolder;
  return { git, folder: at, hasFiles, isShallow: isShallow === 'true' };
}

function nearestFolder(folder: string): string {
  return existsSync(folder) || dirname(folder) === folder ? folder : nearestFolder(dirname(folder));
}

function noRepository(folder: string, { status, trouble }: GitRun): GitTrouble {
  if (status === undefined) return new GitTrouble(`git cannot be run: ${trouble}.`);
  if (/^not a git repository/.test(trouble)) return new GitTrouble(`${folder} lies in no git repository.`);
  if (/dubious ownership/.test(trouble)) {
    return new GitTrouble(
      `git does not read the repository of ${folder}, because it belongs to another user.`,
      'Where it is trusted, say so to git: git config --global --add safe.directory FOLDER.',
    );
  }
  return new GitTrouble(`git does not read the repository of ${folder}: ${trouble}.`);
}
