import type { Snapshot } from '../index/snapshot.ts';
import type { Tape } from '../syntax/tape.ts';

/**
 * A file as a feature of the editor sees it: its text as it stands in the editor, saved or not, in the base as it stands at that
 * moment. `snapshot` holds the facts of this very text where the path is one of the base's record files.
 */
export interface OpenFile {
  /** Relative to the base, with `/`. */
  readonly path: string;
  /** What was read of the text; broken documents are guesses. The text itself is `tape.text`. */
  readonly tape: Tape;
  readonly snapshot: Snapshot;
  /** Invariant 11: false while files of the base may be absent from the snapshot; nothing may be said to be missing or complete. */
  readonly isIndexed: boolean;
}
