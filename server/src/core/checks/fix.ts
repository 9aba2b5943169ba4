import type { Attachment } from '../captures/attachment.ts';
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
  /** What has to be done to other files at once. */
  readonly others?: readonly OtherChange[];
}

/** What a remedy does to a file that a record names. */
export interface OtherChange {
  readonly file: string;
  readonly contentId: string;
  readonly intents: readonly Intent[];
  /** What is known of the file once that is done. */
  readonly becomes: Attachment;
}

type WithoutDocument<Placed> = Placed extends PlacedIntent ? Omit<Placed, 'document'> : never;

/** An intent on whichever document a finding points into. */
export type Change = WithoutDocument<PlacedIntent>;

/** A remedy: what it would do to one file with one content, and to files that records in it name. Whether it can be carried out is known once it is planned there. */
export interface Fix {
  readonly title: string;
  readonly kind: FixKind;
  readonly file: string;
  readonly contentId: string;
  readonly intents: readonly Intent[];
  readonly others?: readonly OtherChange[];
}
