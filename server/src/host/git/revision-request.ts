import type { Snapshot } from '../../core/index/snapshot.ts';
import type { FactsOptions } from './blob-facts.ts';
import type { Repository } from './repository.ts';

/** What is to be compared. */
export interface RevisionRequest {
  readonly repository: Repository;
  /** Name of the revision to compare with. */
  readonly base: string;
  /** Name of the revision that is judged; absent: the files on the disk. */
  readonly head?: string;
  /** Where to look for the base: a folder relative to the top, with `/`; empty for the top itself. */
  readonly folder: string;
  /** The base on the disk, where no revision is judged; absent where none is there. `root` is relative to the top. */
  readonly disk?: { readonly root: string; readonly snapshot: Snapshot } | undefined;
  readonly facts: FactsOptions;
}
