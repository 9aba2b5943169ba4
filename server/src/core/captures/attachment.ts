/** What a base holds at the path of another file that its records name: a capture, a ROM image or a photo. */

import { type CaptureFacts, readCapture } from './read-capture.ts';

/** How much of such a file is wanted, each more than the one before: whether it is there, its sum, or what was captured. */
export type Need = 'presence' | 'sum' | 'capture';

/** A file of the base that records name, and the most that any of them wants of it. */
export interface WantedFile {
  /** Relative to the base, with `/`; inside the base. */
  readonly path: string;
  readonly need: Need;
}

/** What was seen at a path. Plain data; two that are equal say the same of a file. */
export type Attachment =
  | { readonly state: 'missing' }
  /** A link on the way leads out of the base. */
  | { readonly state: 'outside' }
  /** Something is there and cannot be read as a file; why, in words, such as "it is a folder". */
  | { readonly state: 'unreadable'; readonly reason: string }
  /** A file with more bytes than are read. Where only its presence is wanted no file is too large. */
  | { readonly state: 'too-large'; readonly bytes: number }
  | PresentFile;

/** A file that is there. */
export interface PresentFile {
  readonly state: 'present';
  /** Changes whenever the bytes do; empty where nobody wants more than its presence, as the bytes are not read then. */
  readonly contentId: string;
  /** SHA-256 of the bytes in 64 lower-case hexadecimal digits; absent where nobody wants more than its presence. */
  readonly sha256?: string;
  /** What it says; absent where nobody wants that. */
  readonly capture?: CaptureFacts;
}

/** Bytes up to which such a file is read. A ROM image has some megabytes at most, a decoded capture some thousand bytes. */
export const mostAttachmentBytes = 64_000_000;

/** The bytes of a file with what identifies them. */
export interface AttachmentBytes {
  readonly bytes: Uint8Array;
  readonly contentId: string;
  readonly sha256: string;
}

/** What a file says to records that want this of it. `file` is undefined where its bytes were not wanted. */
export function presentFile(need: Need, file: AttachmentBytes | undefined): PresentFile {
  if (need === 'presence' || !file) return { state: 'present', contentId: '' };
  const { bytes, contentId, sha256 } = file;
  const seen = { state: 'present', contentId, sha256 } as const;
  return need === 'capture' ? { ...seen, capture: readCapture(bytes) } : seen;
}

/** Whether the first need asks for more than the second. */
export function isMore(a: Need, b: Need): boolean {
  return order.indexOf(a) > order.indexOf(b);
}

const order: readonly Need[] = ['presence', 'sum', 'capture'];
