import { type Attachment, mostAttachmentBytes, type Need, presentFile } from '../core/captures/attachment.ts';
import { sha256 } from '../core/text/sha256.ts';
import type { ReadFile } from './host.ts';

/** What a file that a host has read, or could not read, says to records that want this of it. */
export function attachmentOf(need: Need, file: ReadFile): Attachment {
  if (!('bytes' in file)) return file.isMissing ? { state: 'missing' } : { state: 'unreadable', reason: file.reason };
  const { bytes, contentId } = file;
  return unread(need, bytes.length) ?? presentFile(need, { bytes, contentId, sha256: sha256(bytes) });
}

/** The same of a file with so many bytes where that needs no reading; undefined where its bytes are needed. */
export function unread(need: Need, bytes: number): Attachment | undefined {
  if (need === 'presence') return presentFile(need, undefined);
  return bytes > mostAttachmentBytes ? { state: 'too-large', bytes } : undefined;
}
