import type { Severity } from '../terms/severities.ts';
import type { ImagesFacts } from './images-facts.ts';

/** What is to be said of images, in one sentence, and what to do. */
export interface Said {
  readonly message: string;
  /** Undefined where nothing is to be done. */
  readonly help?: string | undefined;
}

/** A case images can be in. At error level something is not to be done: writing the image, or powering the board. */
export interface ImageCase {
  readonly case: string;
  readonly severity: Severity;
  /** What is said of images in this case; undefined where they are not. */
  readonly says: (facts: ImagesFacts) => Said | undefined;
}

/** A case that images are in. */
export interface Remark extends Said {
  readonly case: string;
  readonly severity: Severity;
}
