import { describe, expect, it } from 'vitest';
import { findSpelt, seek, spell } from '../../server/src/core/captures/serial-spellings.ts';

/** Where these serial numbers stand in a text: from, to, which one, and whether as it is. */
function found(text: string, ...serials: readonly string[]): readonly (readonly [number, number, string, boolean])[] {
  const sought = seek(serials.flatMap((serial) => spell(serial) ?? []));
  return findSpelt(text, sought).map(({ start, end, serial, isPlain }) => [start, end, serial, isPlain]);
}

// Source: ATA/ATAPI Command Set, "ATA string convention": the two characters of every word stand exchanged.
it.each([
  ['', undefined],
  [' *\0\u00a0\t\n\v\f\r', undefined],
  ['A', ['a']],
  ['*A 1*', ['a1']],
  ['A1b', ['a1b']],
  ['ABCD', ['abcd', 'dcba', 'badc', 'acbd']],
  ['ABCDE', ['abcde', 'edcba', 'badce', 'acbed']],
  ['AB CD', ['abcd', 'dcba', 'badc', 'acbd', 'abdc', 'bacd']],
  [' ABCD ', ['abcd', 'dcba', 'badc', 'acbd']],
  ['AAAA', ['aaaa']],
])('spells %j', (serial, spellings) => {
  const spelt = spell(serial);
  expect(spelt?.serial).toBe(spellings === undefined ? undefined : serial);
  expect(spelt && [...new Set(spelt.spellings)].sort()).toEqual(spellings && [...new Set(spellings)].sort());
  expect(spelt?.spellings[0]).toBe(spellings?.[0]);
  expect(spelt?.spellings.length).toBe(spelt && new Set(spelt.spellings).size);
});

it('makes ready by their first four characters those that are as long, the others by themselves', () => {
  const { byStart, short } = seek([
    { serial: 'ABCDE', spellings: ['abcde', 'edcba'] },
    { serial: 'A1', spellings: ['a1'] },
    { serial: 'ABCD', spellings: ['abcd'] },
  ]);
  expect([...byStart]).toEqual([
    [
      'abcd',
      [
        { serial: 'ABCDE', spelling: 'abcde', order: 0, at: 0 },
        { serial: 'ABCD', spelling: 'abcd', order: 2, at: 0 },
      ],
    ],
    ['edcb', [{ serial: 'ABCDE', spelling: 'edcba', order: 0, at: 1 }]],
  ]);
  expect(short).toEqual([{ serial: 'A1', spelling: 'a1', order: 1, at: 0 }]);
});

describe('a number of four characters or more', () => {
  it.each<readonly [string, string, readonly (readonly [number, number, boolean])[]]>([
    ['nowhere', 'WRN0A4F3', []],
    ['nowhere in nothing', '', []],
    ['alone', 'WRN0A4F2', [[0, 8, true]]],
    ['within a word', 'xWRN0A4F2y', [[1, 9, true]]],
    ['in small letters', 'a wrn0a4f2', [[2, 10, true]]],
    [
      'twice',
      'WRN0A4F2 WRN0A4F2',
      [
        [0, 8, true],
        [9, 17, true],
      ],
    ],
    ['with padding within', 'W R*N\u00a00A\0\n4F2 ', [[0, 13, true]]],
    ['from the back', '2F4A0NRW', [[0, 8, false]]],
    ['with its pairs exchanged', 'RW0N4A2F', [[0, 8, false]]],
    ['with its pairs exchanged from the second on', 'WNRA0F42', [[0, 8, false]]],
    ['in digits', '57524e3041344632', [[0, 16, false]]],
    ['in capital digits', '57524E3041344632', [[0, 16, false]]],
    ['in digits with marks between', '0x57, 0x52-4e:30;41_34*46 32', [[2, 28, false]]],
    ['in digits in lines', '5752\n4e30\n4134\n4632', [[0, 19, false]]],
    ['in digits that begin within a byte', 'a57524e3041344632', [[1, 17, false]]],
    ['in digits with padding', '5720522a4e003041344632', [[0, 22, false]]],
    ['in digits of small letters', '77726e3061346632', [[0, 16, false]]],
    ['in digits from the back', '3246344130 4e5257', [[0, 17, false]]],
    ['in digits with one missing', '57524e304134463', []],
    ['in digits in two runs', '57524e30 and 41344632', []],
  ])('is found %s', (_, text, spans) => {
    expect(found(text, 'WRN0A4F2')).toEqual(spans.map(([start, end, isPlain]) => [start, end, 'WRN0A4F2', isPlain]));
  });

  it('is found in a run of no more digits than it has', () => {
    expect(found('57524e30', 'WRN0')).toEqual([[0, 8, 'WRN0', false]]);
    expect(found('57524e3', 'WRN0')).toEqual([]);
    expect(found('x 57 52 4e 30 y', 'WRN0')).toEqual([[2, 13, 'WRN0', false]]);
  });

  it('keeps its place beside characters that grow in lower case', () => {
    expect(found('\u0130WRN0A', 'WRN0A')).toEqual([[1, 6, 'WRN0A', true]]);
    expect(found('\u0130WRN0A', '\u0130WRN0A')).toEqual([[0, 6, '\u0130WRN0A', true]]);
  });
});

describe('a number of three characters or fewer', () => {
  it.each<readonly [string, readonly (readonly [number, number])[]]>([
    ['A1', [[0, 2]]],
    ['a1', [[0, 2]]],
    ['-A1.', [[1, 3]]],
    ['xA1', []],
    ['A1x', []],
    ['A12', []],
    ['éA1', []],
    ['A1é', []],
    [
      'A1 A12 A1',
      [
        [0, 2],
        [7, 9],
      ],
    ],
    ['A 1', [[0, 3]]],
    ['1A', []],
    ['4131', []],
    ['4131 2020 2020', []],
    ['', []],
  ])('is found where it stands alone: %j', (text, spans) => {
    expect(found(text, 'A1')).toEqual(spans.map(([start, end]) => [start, end, 'A1', true]));
  });
});

describe('of several numbers', () => {
  it('come in the order of the text, the longer first', () => {
    expect(found('x WRN0A4 y QQ12', 'QQ12', 'WRN0', 'WRN0A4')).toEqual([
      [2, 8, 'WRN0A4', true],
      [2, 6, 'WRN0', true],
      [11, 15, 'QQ12', true],
    ]);
  });

  it('that end up in one place the one given first comes first', () => {
    expect(found('BADC', 'ABCD', 'BADC')).toEqual([
      [0, 4, 'ABCD', false],
      [0, 4, 'BADC', true],
    ]);
    expect(found('BADC', 'BADC', 'ABCD')).toEqual([
      [0, 4, 'BADC', true],
      [0, 4, 'ABCD', false],
    ]);
  });

  it('come in the order of the text, short ones as well', () => {
    expect(found('A1 WRN0A4F2 Q2', 'WRN0A4F2', 'Q2', 'A1')).toEqual([
      [0, 2, 'A1', true],
      [3, 11, 'WRN0A4F2', true],
      [12, 14, 'Q2', true],
    ]);
  });

  it('come in the order they are given, whether as text or as digits', () => {
    expect(found('3434343434343434', '3434343434343434', '44444444')).toEqual([
      [0, 16, '3434343434343434', true],
      [0, 16, '44444444', false],
    ]);
    expect(found('3434343434343434', '44444444', '3434343434343434')).toEqual([
      [0, 16, '44444444', false],
      [0, 16, '3434343434343434', true],
    ]);
  });
});
