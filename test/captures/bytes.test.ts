import { describe, expect, it } from 'vitest';
import {
  asciiText,
  byteSum,
  charactersOf,
  hexOf,
  lowestFirst,
  swappedPairs,
  wordsOf,
} from '../../server/src/core/captures/bytes.ts';

it.each([
  [[], []],
  [[7], []],
  [[0x34, 0x12], [0x1234]],
  [[0x34, 0x12, 7], [0x1234]],
  [
    [0xff, 0xff, 1, 0],
    [0xffff, 1],
  ],
])('words of %j', (bytes, words) => {
  expect(wordsOf(Uint8Array.from(bytes))).toEqual(words);
});

it.each([
  [[], []],
  [[7], [7]],
  [
    [1, 2],
    [2, 1],
  ],
  [
    [1, 2, 3],
    [2, 1, 3],
  ],
  [
    [1, 2, 3, 4],
    [2, 1, 4, 3],
  ],
])('pairs of %j swapped', (bytes, swapped) => {
  const given = Uint8Array.from(bytes);
  expect(swappedPairs(given)).toEqual(Uint8Array.from(swapped));
  expect(given).toEqual(Uint8Array.from(bytes));
});

it.each([
  [[], 0],
  [[1, 2, 3], 6],
  [[255, 1], 0],
  [[255, 255, 255], 253],
])('sum of %j', (bytes, sum) => {
  expect(byteSum(Uint8Array.from(bytes))).toBe(sum);
});

it.each([
  [[], ''],
  [[0], '00'],
  [[10, 255, 16], '0aff10'],
])('digits of %j', (bytes, digits) => {
  expect(hexOf(bytes)).toBe(digits);
});

describe('characters', () => {
  it.each([
    ['', '', ''],
    ['of padding alone', ' \0 \0', ''],
    ['without padding', 'WRN', 'WRN'],
    ['with padding before', '\0 WRN', 'WRN'],
    ['with padding behind', 'WRN\0 ', 'WRN'],
    ['with padding around and within', ' W R\0N\0', 'W R\0N'],
    ['one', 'W', 'W'],
    ['one with a tab around', '\tW\t', '\tW\t'],
    ['beyond ASCII', '\u00e9', '\u00e9'],
  ])('%s', (_, text, characters) => {
    const bytes = Array.from(text, (character) => character.charCodeAt(0));
    expect(charactersOf(bytes)).toBe(characters);
  });

  it.each([
    ['', ''],
    ['\0 \0', ''],
    [' WRN 2~\0', 'WRN 2~'],
    ['W\0N', undefined],
    ['W\tN', undefined],
    ['\u00e9', undefined],
    ['WRN\u007f', undefined],
    ['\u007fWRN', undefined],
    ['\nWRN', undefined],
    ['WRN\n', undefined],
  ])('%j as a text', (text, ascii) => {
    expect(asciiText(Array.from(text, (character) => character.charCodeAt(0)))).toBe(ascii);
  });
});

it.each([
  [[], 256, 0],
  [[7], 256, 7],
  [[1, 2], 256, 513],
  [[1, 2], 65_536, 131_073],
  [[0, 0, 0, 0, 0, 1], 256, 2 ** 40],
  [[0xff, 0xff, 0xff, 0xff, 0xff, 0xff], 256, 2 ** 48 - 1],
] as const)('%j with the lowest first, by %i', (parts, base, number) => {
  expect(lowestFirst(parts, base)).toBe(number);
});
