import { configPath } from '../../core/checks/config-invalid.ts';
import type { ConfigFile } from '../../core/index/snapshot.ts';
import { defaultConfig } from '../../core/model/config.ts';
import { plural } from '../../core/text/plural.ts';
import type { Listing } from '../host.ts';
import { loadConfig } from '../load-base.ts';
import { basesIn } from './bases-in-tree.ts';
import { GitHost } from './git-host.ts';
import { GitTrouble } from './git-trouble.ts';
import { notInClone } from './read-blobs.ts';
import { readTree, type Tree } from './read-tree.ts';
import type { Repository } from './repository.ts';

/** A base as it lies in a revision, listed and not loaded. */
export interface RevisionBase {
  readonly host: GitHost;
  readonly configFile: ConfigFile;
  readonly listing: Listing;
}

/** A revision, and the bases in it. */
export interface OpenTree {
  readonly tree: Tree;
  /** Folders relative to the top. */
  readonly bases: readonly string[];
}

/** Looks what a commit holds. */
export async function openTree(repository: Repository, commit: string): Promise<OpenTree> {
  const tree = await readTree(repository, commit);
  return { tree, bases: basesIn(tree) };
}

/** The base in a folder of a revision. */
export async function openRevisionBase(
  repository: Repository,
  { tree }: OpenTree,
  root: string,
): Promise<RevisionBase> {
  const host = await GitHost.of(repository, tree, root);
  const configFile = await loadConfig(host);
  const { isUsable, config, faults } = configFile.reading;
  if (faults.some((fault) => fault.kind === 'unreadable' && fault.reason === notInClone)) throw leftOut(1, configPath);
  return { host, configFile, listing: isUsable ? await host.list(config.ignore) : nothing };
}

/** What to say where contents are missing that only their origin has. */
export function leftOut(count: number, example: string): GitTrouble {
  return new GitTrouble(
    `${plural(count, 'file')} of the revisions ${count === 1 ? 'is' : 'are'} not in this clone, such as \`${example}\`.`,
    'It was cloned without all contents; have git fetch the missing ones first, for instance by checking both revisions out.',
  );
}

/** What there is of a base in a revision that has none. */
export const noConfig: ConfigFile = {
  contentId: '',
  reading: { config: defaultConfig, faults: [], isUsable: true },
};

const nothing: Listing = { paths: [], unreadable: [] };
