import type { Intent, PlacedIntent } from '../edits/intent.ts';

/**
 * How sure a remedy is: to `ask` means that there is more than one way out, so that somebody has to choose. Of a `fix` the file alone
 * says what was meant; it is offered as one only where it brings no other finding, which `weighFix` finds out.
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
