import type { Snapshot } from '../../core/index/snapshot.ts';
import type { BaseCache } from '../disk/base-cache.ts';
import type { Repository } from './repository.ts';

/** The base as it lies on the disk. */
export interface DiskSide {
  /** Folder relative to the top, with `/`. */
  readonly root: string;
  readonly snapshot: Snapshot;
}

/** What is to be compared. */
export interface RevisionRequest {
  readonly repository: Repository;
  /** Name of the revision to compare with. */
  readonly base: string;
  /** Name of the revision that is judged; absent: the files on the disk. */
  readonly head?: string;
  /** Where to look for the base: a folder relative to the top, with `/`; empty for the top itself. */
  readonly folder: string;
  /** Opens the base on the disk, where no revision is judged; gives undefined where none is there. Called once the revisions are known. */
  readonly openDisk: () => Promise<DiskSide | undefined>;
  /** What is remembered of the base in a folder, which is relative to the top and need not be there; undefined where nothing is. */
  readonly cacheOf: (root: string) => BaseCache | undefined;
  /** Program of further threads; undefined where there is none. */
  readonly loader: string | undefined;
}
