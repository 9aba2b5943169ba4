import type { Path } from '../syntax/tape.ts';

/** What is wrong with a map, in a sentence, and what to do. */
export interface MapFault {
  /** Half-open UTF-16 offsets. */
  readonly start: number;
  readonly end: number;
  readonly message: string;
  readonly help?: string | undefined;
}

/** The same at a path of the map. */
export interface PlacedFault {
  readonly path: Path;
  readonly message: string;
  readonly help?: string;
}
