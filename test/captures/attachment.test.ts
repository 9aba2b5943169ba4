import { expect, it } from 'vitest';
import { isMore, mostAttachmentBytes, type Need, presentFile } from '../../server/src/core/captures/attachment.ts';
import { readCapture } from '../../server/src/core/captures/read-capture.ts';

const bytes = new TextEncoder().encode(
  '{"capture": 1, "values": {"rpm": 5400}, "sources": [{"name": "a", "values": {}}]}',
);
const file = { bytes, contentId: 'c1', sha256: 'ab'.repeat(32) };

it('says of a file no more than records want of it', () => {
  expect(presentFile('presence', file)).toStrictEqual({ state: 'present', contentId: '' });
  expect(presentFile('sum', file)).toStrictEqual({ state: 'present', contentId: 'c1', sha256: file.sha256 });
  expect(presentFile('capture', file)).toStrictEqual({
    state: 'present',
    contentId: 'c1',
    sha256: file.sha256,
    capture: readCapture(bytes),
  });
  expect(readCapture(bytes).values).toEqual({ rpm: 5400 });
});

it.each(['presence', 'sum', 'capture'] as const)(
  'says that a file is there whose bytes were not wanted: %s',
  (need) => {
    expect(presentFile(need, undefined)).toStrictEqual({ state: 'present', contentId: '' });
  },
);

it('wants more of a file the later it stands in this order', () => {
  const needs: readonly Need[] = ['presence', 'sum', 'capture'];
  expect(needs.map((one) => needs.map((other) => isMore(one, other)))).toEqual([
    [false, false, false],
    [true, false, false],
    [true, true, false],
  ]);
});

it('reads 64 MB of a file', () => {
  expect(mostAttachmentBytes).toBe(64_000_000);
});
