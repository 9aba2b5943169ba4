import type { ConfigFile } from '../../core/index/snapshot.ts';
import { defaultConfig } from '../../core/model/config.ts';
import type { Listing } from '../host.ts';
import { loadConfig } from '../load-base.ts';
import { basesIn } from './bases-in-tree.ts';
import { GitHost } from './git-host.ts';
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
  const { isUsable, config } = configFile.reading;
  return { host, configFile, listing: isUsable ? await host.list(config.ignore) : nothing };
}

/** What there is of a base in a revision that has none. */
export const noConfig: ConfigFile = {
  contentId: '',
  reading: { config: defaultConfig, faults: [], isUsable: true },
};

const nothing: Listing = { paths: [], unreadable: [] };
