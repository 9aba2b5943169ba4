import type { Snapshot } from '../core/index/snapshot.ts';

/** A base held against one of its revisions. */
export interface RevisionSides {
  /** The base as it was where the two parted. */
  readonly before: Snapshot;
  /** The base as it is now. */
  readonly after: Snapshot;
  /** What the revision has become since, and what both come to together; absent where it has not moved on. */
  readonly merge?: { readonly theirs: Snapshot; readonly merged: Snapshot };
  /** What is to be known of how they were found: sentences. */
  readonly notes: readonly string[];
}

/** The history that bases lie in, as far as it can be read here. Folders are URIs without a slash at the end. */
export interface RevisionReader {
  /** The branches that a base may be compared with, the latest first; or why there are none. */
  branches(root: string): Promise<readonly string[] | { readonly reason: string }>;
  /** A base, as this snapshot has it, held against a revision by its name; or why that cannot be done. */
  compare(root: string, revision: string, now: Snapshot): Promise<RevisionSides | { readonly reason: string }>;
}
