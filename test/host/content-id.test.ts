import { execFileSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { expect, it } from 'vitest';
import { contentIdOf } from '../../server/src/host/content-id.ts';

const contents: readonly (readonly [string, Uint8Array])[] = [
  ['nothing', Buffer.of()],
  ['text', Buffer.from('kind: maker\nid: wren\nname: Zaunkönig 🐦\n')],
  ['Windows line ends, which git must not turn', Buffer.from('swaplore: 1\r\n')],
  ['a NUL and every other byte', Buffer.from(Array.from({ length: 256 }, (_, byte) => byte))],
  ['one byte short of a block of the hash, header included', Buffer.alloc(55 - 'blob 46\0'.length, 'a')],
  ['a whole block', Buffer.alloc(64 - 'blob 56\0'.length, 'a')],
  ['more than a million bytes', randomBytes(1_234_567)],
];

it.each(contents)('is what git calls it: %s', (_, bytes) => {
  const blobId = execFileSync('git', ['hash-object', '--stdin', '--no-filters'], { input: bytes, encoding: 'utf8' });
  expect(contentIdOf(bytes)).toBe(blobId.trim());
});

it('reads a part of a larger buffer as that part', () => {
  const whole = Buffer.from('-swaplore: 1-');
  expect(contentIdOf(whole.subarray(1, -1))).toBe(contentIdOf(Buffer.from('swaplore: 1')));
});
