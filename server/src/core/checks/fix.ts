import type { Intent, PlacedIntent } from '../edits/intent.ts';

/**
 * How sure a remedy is: a `fix` follows from the file alone and may be made without being asked for; to `ask` means that there is more
 * than one way out, so that somebody has to choose.
 */
export type FixKind = 'fix' | 'ask';

/** A remedy as a check gives it. */
export interface DraftFix {
  /** What it does, as an order: "Replace it with `needs`". */
  readonly title: string;
  readonly kind: FixKind;
  /** Changes of the document the finding points into. */
  readonly changes: readonly Change[];
}

type WithoutDocument<Placed> = Placed extends PlacedIntent ? Omit<Placed, 'document'> : never;

/** An intent on whichever document a finding points into. */
export type Change = WithoutDocument<PlacedIntent>;

/** A remedy: what it would do to one file with one content. Whether it can be carried out is known once it is planned there. */
export interface Fix {
  readonly title: string;
  readonly kind: FixKind;
  readonly file: string;
  readonly contentId: string;
  readonly intents: readonly Intent[];
}
