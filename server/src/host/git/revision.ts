import { GitTrouble } from './git-trouble.ts';
import type { Repository } from './repository.ts';
import { runGit } from './run-git.ts';

/** The commit that a name stands for, as its id. Throws `GitTrouble` where it stands for none. */
export async function getCommit(repository: Repository, name: string): Promise<string> {
  // Git would take it for an option.
  if (name.startsWith('-')) throw new GitTrouble(`\`${name}\` cannot be a revision: it begins with a hyphen.`);
  const id = await findId(repository, name);
  if (id === undefined) {
    const help = repository.isShallow
      ? 'This clone is shallow, so that most revisions are not in it; fetch the one that is wanted first.'
      : 'Name a branch, a tag or a commit of this repository; what was never fetched is not in it.';
    throw new GitTrouble(`There is no revision \`${name}\`.`, help);
  }
  const commit = await findId(repository, `${id}^{commit}`);
  if (commit !== undefined) return commit;
  const { stdout } = await runGit(repository.git, repository.folder, ['cat-file', '-t', id]);
  const kind = kinds.get(stdout.toString('latin1').trim());
  throw new GitTrouble(
    kind === undefined
      ? `The revision \`${name}\` is not in this clone.`
      : `\`${name}\` names ${kind}, not a revision.`,
    'Name a branch, a tag or a commit.',
  );
}

const kinds = new Map([
  ['blob', 'a file'],
  ['tree', 'a folder'],
  ['tag', 'a tag of something else'],
]);

/** The commit that both come from, nearest to them; undefined where nothing is known that they have in common. Both are ids. */
export async function findMergeBase(repository: Repository, a: string, b: string): Promise<string | undefined> {
  const { stdout, status } = await runGit(repository.git, repository.folder, ['merge-base', a, b]);
  const id = stdout.toString('latin1').trim();
  return status === 0 && isId(id) ? id : undefined;
}

/** The commit that the files of the repository were taken from; undefined where there is none yet. */
export function findHead(repository: Repository): Promise<string | undefined> {
  return findId(repository, 'HEAD^{commit}');
}

async function findId({ git, folder }: Repository, name: string): Promise<string | undefined> {
  const { stdout, status } = await runGit(git, folder, ['rev-parse', '--verify', '--quiet', '--end-of-options', name]);
  const id = stdout.toString('latin1').trim();
  return status === 0 && isId(id) ? id : undefined;
}

function isId(text: string): boolean {
  return /^(?:[0-9a-f]{40}|[0-9a-f]{64})$/.test(text);
}
