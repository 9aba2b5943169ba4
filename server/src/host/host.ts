import type { Attachment, WantedFile } from '../core/captures/attachment.ts';

/** The bytes of a file with an id of their content, or why they cannot be had and whether that is because no file is there. */
export type ReadFile =
  | { readonly bytes: Uint8Array; readonly contentId: string }
  | { readonly reason: string; readonly isMissing: boolean };

/** What lies in a base. */
export interface Listing {
  /** Paths of the record files, relative to the base, with `/`. */
  readonly paths: readonly string[];
  /** Files and folders that belong to the base and cannot be entered, each with the reason in words. */
  readonly unreadable: readonly { readonly path: string; readonly reason: string }[];
}

/**
 * Invariant 8: how the files of one base are reached, whole batches at a time and as bytes. A host never follows a link out of the
 * base, and answers for what it cannot read instead of throwing.
 */
export interface Host {
  /** The files of the base, those that match a pattern of `ignore` left out. */
  list(ignore: readonly string[]): Promise<Listing>;
  /** Files by path, in the order asked for. */
  readMany(paths: readonly string[]): Promise<readonly ReadFile[]>;
  /** Looks at other files that records name, in the order asked for. What nobody wants to know of a file is not read. */
  lookAt(wanted: readonly WantedFile[]): Promise<readonly Attachment[]>;
}
