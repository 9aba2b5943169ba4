import type { Path } from '../syntax/tape.ts';

/** A hint and the paths of the values it may stand beside: it goes to the first of them that stands in the text, else nowhere. */
export interface HintDraft {
  readonly at: readonly Path[];
  readonly text: string;
  readonly detail: string;
}
