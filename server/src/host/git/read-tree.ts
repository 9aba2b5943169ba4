import { GitTrouble } from './git-trouble.ts';
import type { Repository } from './repository.ts';
import { runGit } from './run-git.ts';

/** What stands at a path of a revision. */
export interface TreeEntry {
  /** `submodule`: another repository, of which a revision knows nothing but an id. */
  readonly kind: 'file' | 'link' | 'submodule';
  /** Of a file or link the id of its content. */
  readonly id: string;
  /** False where the name is not UTF-8, so that the path only resembles it. */
  readonly isNameText: boolean;
}

/** Everything in a revision but its folders, by path with `/`. */
export type Tree = ReadonlyMap<string, TreeEntry>;

const decoder = new TextDecoder('utf-8', { fatal: true });

/** All that stands in a commit. */
export async function readTree({ git, folder }: Repository, commit: string): Promise<Tree> {
  const run = await runGit(git, folder, ['ls-tree', '-r', '-z', '--full-tree', commit]);
  if (run.status !== 0) {
    throw new GitTrouble(
      `git cannot read which files ${commit.slice(0, 12)} has: ${run.trouble}.`,
      'What is missing from a clone has to be fetched before.',
    );
  }
  const tree = new Map<string, TreeEntry>();
  for (const { text, isNameText } of linesOf(run.stdout)) {
    const [, mode = '', id = '', path = ''] = /^(\d+) \w+ (\w+)\t(.*)$/s.exec(text) ?? [];
    if (path !== '') tree.set(path, { kind: kindOf(mode), id, isNameText });
  }
  return tree;
}

/** Source: git-ls-tree(1); modes as in gitformat-index(5), "object type". */
function kindOf(mode: string): TreeEntry['kind'] {
  if (mode === '120000') return 'link';
  return mode === '160000' ? 'submodule' : 'file';
}

interface Line {
  readonly text: string;
  readonly isNameText: boolean;
}

function* linesOf(bytes: Buffer): Generator<Line> {
  const whole = decoded(bytes);
  if (whole !== undefined) {
    for (const text of whole.split('\0')) yield { text, isNameText: true };
    return;
  }
  for (let at = 0; at < bytes.length; ) {
    const end = bytes.indexOf(0, at);
    const line = bytes.subarray(at, end < 0 ? bytes.length : end);
    const text = decoded(line);
    yield { text: text ?? line.toString('utf8'), isNameText: text !== undefined };
    at += line.length + 1;
  }
}

function decoded(bytes: Buffer): string | undefined {
  try {
    return decoder.decode(bytes);
  } catch {
    return undefined;
  }
}
