import { expect, it } from 'vitest';
import { readHexText } from '../../server/src/core/captures/read-hex-text.ts';

it.each([
  ['one word, the higher byte first', '5752', 'words', [0x52, 0x57]],
  ['several words of a line', '5752 4e30', 'words', [0x52, 0x57, 0x30, 0x4e]],
  [
    'words with commas, more than one mark between and one behind',
    '5752, 4E30,\t ,0001,',
    'words',
    [0x52, 0x57, 0x30, 0x4e, 1, 0],
  ],
  ['one byte', 'a5', 'bytes', [0xa5]],
  ['bytes of several lines', '57 52\r\n4e,30,', 'bytes', [0x57, 0x52, 0x4e, 0x30]],
  ['bytes with more than one mark between', '57,  52, 4E', 'bytes', [0x57, 0x52, 0x4e]],
  ['spaces around the lines', '  5752\t\n  4e30  ', 'words', [0x52, 0x57, 0x30, 0x4e]],
  ['empty lines within', '57\n\n \n52', 'bytes', [0x57, 0x52]],
  ['empty lines before', '\n \n\n \n\n57', 'bytes', [0x57]],
  ['three lines before', 'a drive\n/dev/sda:\nwords:\n5752', 'words', [0x52, 0x57]],
  ['text behind, and nothing after it', '5752\nthe end\n4e30', 'words', [0x52, 0x57]],
  ['bytes behind words, which end them', '5752\n4e 30', 'words', [0x52, 0x57]],
  ['words behind bytes, which end them', '57 52\n4e30', 'bytes', [0x57, 0x52]],
] as const)('reads %s', (_, text, unit, bytes) => {
  expect(readHexText(text)).toEqual({ bytes: Uint8Array.from(bytes), unit });
});

it.each([
  ['nothing', ''],
  ['empty lines', '\n\n'],
  ['text', 'a drive'],
  ['four lines before', 'a\nb\nc\nd is here\n5752'],
  ['one digit', '5'],
  ['three digits', '575'],
  ['five digits', '57524'],
  ['eight digits', '5752 4e304e30'],
  ['words and bytes in one line', '5752 4e'],
  ['something before the words', 'x5752'],
  ['something behind the words', '5752 4e30x'],
  ['something before the bytes', 'x57 52'],
  ['something behind the bytes', '57 52x'],
  ['two commas behind', '57,,'],
  ['a letter that is no digit', '57 5g'],
])('finds no digits in %s', (_, text) => {
  expect(readHexText(text)).toBeUndefined();
});
