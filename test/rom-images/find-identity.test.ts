import { describe, expect, it } from 'vitest';
import { findSerial, findWwn } from '../../server/src/core/rom-images/find-identity.ts';
import { imageDifferences } from '../../server/src/core/rom-images/image-differences.ts';
import { bytesOf, joined, noise, swappedIn, withAt } from '../harness/rom-bytes.ts';

const empty = new Uint8Array(64);

describe('a serial number', () => {
  it.each([
    ['WRN0', withAt(empty, 3, bytesOf('WRN0')), [{ spelling: 'plain', at: [3], count: 1 }]],
    ['wRn0', withAt(empty, 60, bytesOf('WrN0')), [{ spelling: 'plain', at: [60], count: 1 }]],
    ['WRN0', withAt(empty, 61, bytesOf('WRN')), []],
    ['WRN01', withAt(empty, 4, bytesOf('RW0Nx1')), [{ spelling: 'swapped_pairs', at: [4], count: 1 }]],
    ['WRN0', withAt(empty, 4, bytesOf('WxNRy0')), [{ spelling: 'swapped_pairs', at: [4], count: 1 }]],
    [
      'WRN0',
      joined(bytesOf('WRN0WRN0'), bytesOf('RW0N')),
      [
        { spelling: 'plain', at: [0, 4], count: 2 },
        { spelling: 'swapped_pairs', at: [8], count: 1 },
      ],
    ],
    [
      'AAAA',
      new Uint8Array(20).fill(0x41),
      [
        { spelling: 'plain', at: Array.from({ length: 16 }, (_, n) => n), count: 17 },
        // In swapped words it may begin with the second byte of one, and then takes five.
        { spelling: 'swapped_pairs', at: Array.from({ length: 15 }, (_, n) => n), count: 15 },
      ],
    ],
    [' WRN0 ', withAt(empty, 0, bytesOf('WRN0')), [{ spelling: 'plain', at: [0], count: 1 }]],
  ] as const)('%s, %#', (serial, bytes, sightings) => expect(findSerial(bytes, serial)).toEqual(sightings));
});

describe('a world-wide name', () => {
  const digits = '5000123456789ABC';
  const name = [0x50, 0x00, 0x12, 0x34, 0x56, 0x78, 0x9a, 0xbc];
  const seen = (at: number, bytes: readonly number[] | Uint8Array) =>
    findWwn(withAt(empty, at, bytes), { digits } as never);

  it('is found from its first byte, from its last, in swapped words and in letters', () => {
    expect(seen(5, name)).toEqual([{ spelling: 'big_endian', at: [5], count: 1 }]);
    expect(seen(56, name.toReversed())).toEqual([{ spelling: 'little_endian', at: [56], count: 1 }]);
    expect(seen(2, swappedIn(Uint8Array.from(name), 2))).toEqual([{ spelling: 'swapped_pairs', at: [2], count: 1 }]);
    expect(seen(2, bytesOf('5000123456789abc'))).toEqual([{ spelling: 'digits', at: [2], count: 1 }]);
    expect(seen(2, name.slice(0, 7))).toEqual([]);
  });
});

describe('two images', () => {
  const one = noise(10_000, 5);

  it('differ in what is told of them, block by block', () => {
    const other = withAt(withAt(one, 5_000, [~one[5_000]! & 0xff]), 9_999, [one[9_999]! ^ 1]);
    const isSet = (one[9_999]! & 1) === 1;
    const bits = one[5_000]!.toString(2).replaceAll('0', '').length;
    expect(imageDifferences(one, other)).toEqual({
      isEqual: false,
      blocks: [
        { block: 1, bytes: 1, setIn: { first: bits, second: 8 - bits }, blankIn: undefined },
        { block: 2, bytes: 1, setIn: { first: isSet ? 1 : 0, second: isSet ? 0 : 1 }, blankIn: undefined },
      ],
      longer: undefined,
      swapped: undefined,
      shift: undefined,
    });
  });

  it('differ in length alone, or in blocks that are blank in one', () => {
    expect(imageDifferences(one, one.subarray(0, 9_000))).toMatchObject({
      isEqual: false,
      blocks: [],
      longer: 'first',
    });
    expect(imageDifferences(one.subarray(0, 9_000), one)).toMatchObject({
      isEqual: false,
      blocks: [],
      longer: 'second',
    });
    const blank = withAt(one, 4_096, new Uint8Array(4_096).fill(0xff));
    expect(imageDifferences(one, blank).blocks).toMatchObject([{ block: 1, blankIn: 'second' }]);
    expect(imageDifferences(blank, one).blocks).toMatchObject([{ block: 1, blankIn: 'first' }]);
    const zero = withAt(one, 4_096, new Uint8Array(4_096));
    expect(imageDifferences(blank, zero).blocks).toMatchObject([{ block: 1, bytes: 4_096, blankIn: undefined }]);
  });

  it('hold the same bytes in another order, in groups that fill them', () => {
    for (const width of [2, 4] as const) {
      expect(imageDifferences(one, swappedIn(one, width)).swapped).toBe(width);
      expect(imageDifferences(one, withAt(swappedIn(one, width), 1, [one[1]! ^ 1])).swapped).toBeUndefined();
    }
    const odd = one.subarray(0, 4_095);
    expect(
      imageDifferences(odd, joined(swappedIn(odd.subarray(0, 4_094), 2), odd.subarray(4_094))).swapped,
    ).toBeUndefined();
  });

  it.each([
    ['lost', joined(one.subarray(0, 3_000), one.subarray(3_001)), { from: 3_000, bytes: 1, later: 'first' }],
    [
      'put in',
      joined(one.subarray(0, 3_000), noise(7, 9), one.subarray(3_000, 9_993)),
      { from: 3_000, bytes: 7, later: 'second' },
    ],
    ['lost, far on', joined(one.subarray(0, 9_900), one.subarray(9_904)), { from: 9_900, bytes: 4, later: 'first' }],
    ['lost, too near the end', joined(one.subarray(0, 9_940), one.subarray(9_944)), undefined],
  ])('go apart where bytes were %s', (_, other, shift) => expect(imageDifferences(one, other).shift).toEqual(shift));

  it('do not go apart where they differ in little', () => {
    expect(imageDifferences(one, withAt(one, 3_000, noise(15, 9))).shift).toBeUndefined();
  });
});
