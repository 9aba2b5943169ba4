import { describe, expect, it } from 'vitest';
import { CaptureDraft } from '../../server/src/core/captures/capture-draft.ts';
import { findVpdPage, readLength } from '../../server/src/core/captures/vpd-page.ts';

const none = new Uint8Array();

describe('a page', () => {
  // Source of the header: SPC, as sg_vpd 1.46 reads it: qualifier and device type, page, length with the higher byte first.
  it.each([
    ['of no content', [0, 0x80, 0, 0], { page: 0x80, announced: 0, content: [], rest: [] }],
    ['of one byte', [0, 0x83, 0, 1, 7], { page: 0x83, announced: 1, content: [7], rest: [] }],
    [
      'with something behind it',
      [0, 0x89, 0, 2, 7, 8, 9, 0],
      { page: 0x89, announced: 2, content: [7, 8], rest: [9, 0] },
    ],
    ['cut short', [0, 0x80, 1, 2, 7], { page: 0x80, announced: 258, content: [7], rest: [] }],
    ['of a unit that is not connected', [0x20, 0x80, 0, 0], { page: 0x80, announced: 0, content: [], rest: [] }],
    ['of another kind of device', [0x1f, 0x80, 0, 0], { page: 0x80, announced: 0, content: [], rest: [] }],
    ['of no device', [0x7f, 0x80, 0, 0], { page: 0x80, announced: 0, content: [], rest: [] }],
  ] as const)('%s', (_, bytes, { page, announced, content, rest }) => {
    expect(findVpdPage(Uint8Array.from(bytes))).toEqual({
      page,
      announced,
      content: Uint8Array.from(content),
      rest: Uint8Array.from(rest),
    });
  });

  it.each([
    ['nothing', []],
    ['less than a header', [0, 0x80, 0]],
    ['another page', [0, 0x81, 0, 0]],
    ['a page of the list of pages', [0, 0, 0, 0]],
    ['a qualifier that is reserved', [0x40, 0x80, 0, 0]],
    ['the same with a type', [0x5f, 0x80, 0, 0]],
    ["a qualifier of the maker's", [0x80, 0x80, 0, 0]],
    ["the last qualifier of the maker's", [0xff, 0x80, 0, 0]],
  ])('is not found in %s', (_, bytes) => {
    expect(findVpdPage(Uint8Array.from(bytes))).toBeUndefined();
  });
});

describe('the length of a page', () => {
  it.each([
    ['is right', 2, [7, 8], [], [], []],
    ['is right with zeros behind', 2, [7, 8], [0, 0], [], []],
    [
      'is more than there is',
      300,
      [7, 8],
      [],
      [{ severity: 'error', message: 'Only 6 of 304 bytes are there: the page was cut short.' }],
      [],
    ],
    ['is less than there is', 1, [7], [0, 0xab, 1], [], [{ at: 'behind the page', value: '00ab01' }]],
  ])('%s', (_, announced, content, rest, problems, unnamed) => {
    const draft = new CaptureDraft();
    readLength({ page: 0x80, announced, content: Uint8Array.from(content), rest: Uint8Array.from(rest) }, draft);
    expect(draft.done('vpd_80')).toStrictEqual({ format: 'vpd_80', values: {}, problems, unnamed });
  });

  it('says nothing of an empty page', () => {
    const draft = new CaptureDraft();
    readLength({ page: 0x83, announced: 0, content: none, rest: none }, draft);
    expect(draft.done('vpd_83')).toStrictEqual({ format: 'vpd_83', values: {}, problems: [], unnamed: [] });
  });
});
