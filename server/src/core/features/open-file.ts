import type { Snapshot } from '../index/snapshot.ts';
import type { Tape } from '../syntax/tape.ts';

/** A file of a base as it stands in an editor, saved or not. */
export interface OpenFile {
  /** Path relative to the base, with `/`. */
  readonly path: string;
  readonly tape: Tape;
  /** The base with this text in it. */
  readonly snapshot: Snapshot;
  /** Whether the snapshot holds all files of the base. Until then nothing may be said that rests on absence or on counts (invariant 11). */
  readonly isIndexed: boolean;
}
