import { join } from 'node:path';
import { applyEdits, type FileEdits, isRefusal, type Refusal } from '../../core/edits/text-edit.ts';
import { decodeText } from '../../core/text/decode.ts';
import { readDiskFile } from './read-disk-file.ts';
import { writeAtomically } from './write-atomically.ts';

const byteOrderMark = [0xef, 0xbb, 0xbf];

/**
 * Writes edits into a file of a base, whole or not at all (invariant 15). Refused where the file cannot be read or holds another content
 * than they were made for. Throws what the system throws where it cannot write.
 */
export function writeEdits(root: string, { file, ...edits }: FileEdits): Refusal | undefined {
  const read = readDiskFile(root, file);
  if (!('bytes' in read)) return { refused: `The file cannot be read: ${read.reason}.` };
  const decoded = decodeText(read.bytes);
  if ('reason' in decoded) return { refused: `The file cannot be read: ${decoded.reason}.` };
  const text = applyEdits({ text: decoded.text, contentId: read.contentId }, edits);
  if (isRefusal(text)) return text;
  const isMarked = byteOrderMark.every((byte, at) => read.bytes[at] === byte);
  const bytes = Buffer.concat([Buffer.from(isMarked ? byteOrderMark : []), Buffer.from(text)]);
  writeAtomically(join(root, file), bytes, 'as_before');
  return undefined;
}
