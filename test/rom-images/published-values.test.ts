import { describe, expect, it } from 'vitest';
import { readIdentification } from '../../server/src/core/rom-images/identification.ts';
import { imageBlocks } from '../../server/src/core/rom-images/image-blocks.ts';
import { imageDifferences } from '../../server/src/core/rom-images/image-differences.ts';
import { sizeKind } from '../../server/src/core/rom-images/image-size.ts';
import { readParameterTable } from '../../server/src/core/rom-images/parameter-table.ts';
import { joined, noise } from '../harness/rom-bytes.ts';

/** A block in which each value stands as often as its share of 64 says. */
function blockOf(...shares: readonly number[]): Uint8Array {
  return joined(...shares.map((share, value) => new Uint8Array(share * 64).fill(value + 1)));
}

/** Source: Cover and Thomas, Elements of Information Theory, examples 1.1.1, 1.1.2 and 2.1.1 (from memory). */
const entropies: readonly (readonly [string, Uint8Array, number])[] = [
  ['32 equal outcomes', blockOf(...Array.from({ length: 32 }, () => 2)), 5],
  ['eight horses of unequal chances', blockOf(32, 16, 8, 4, 1, 1, 1, 1), 2],
  ['a half, a quarter and two eighths', blockOf(32, 16, 8, 8), 1.75],
];

describe('entropy', () => {
  it.each(entropies)('of %s', (_, block, bits) => {
    expect(block.length).toBe(4_096);
    expect(imageBlocks(block).map(({ entropy }) => entropy)).toEqual([bits]);
  });
});

describe('a flash parameter table', () => {
  /** Source: Linux, drivers/mtd/spi-nor/sfdp.c: SFDP_SIGNATURE 0x50444653U; struct sfdp_header: u32, minor, major, nph counted from 0. */
  const head = new Uint8Array(8);
  new DataView(head.buffer).setUint32(0, 0x50444653, true);
  head.set([6, 1, 2, 0xff], 4);

  it('is known by its signature, and says its revision and the number of its headers', () => {
    expect(readParameterTable(head)).toEqual({ major: 1, minor: 6, headers: 3 });
  });

  it('is not there in another order of bytes, or where it is cut', () => {
    expect(readParameterTable(head.toReversed())).toBeUndefined();
    expect(readParameterTable(head.subarray(0, 6))).toBeUndefined();
  });
});

describe('an identification', () => {
  /** Source: JEDEC JEP106 (abstract): seven bits and odd parity; 7Fh leads to the next bank. */
  it('has a maker of odd parity, after any number of continuation codes', () => {
    expect(readIdentification([0x7f, 0x7f, 0xba, 0x60, 0x14])).toEqual({
      continuations: 2,
      maker: 0xba,
      type: 0x60,
      capacity: 0x14,
    });
    expect(readIdentification([0xbb, 0x60, 0x14])).toBeUndefined();
    expect(readIdentification([0xba, 0x60])).toBeUndefined();
    expect(readIdentification([0xba, 0x60, 0x14, 0x00])).toBeUndefined();
    expect(readIdentification([0x7f, 0x7f])).toBeUndefined();
  });
});

describe('sizes', () => {
  it('are those of chips or of none', () => {
    const kinds = [0, 1, 32_768, 65_536, 67_584, 100_000, 2 ** 24, 2 ** 25].map(sizeKind);
    expect(kinds).toEqual(['empty', 'unusual', 'unusual', 'usual', 'paged', 'odd', 'usual', 'unusual']);
  });
});

describe('shifts', () => {
  it('are not seen in what repeats itself, which fits further on and further back', () => {
    const tile = noise(48, 3);
    const tiles = joined(...Array.from({ length: 20 }, () => tile));
    const turned = joined(tile.subarray(24), tiles.subarray(0, tiles.length - 24));
    expect(imageDifferences(tiles, turned)).toMatchObject({ isEqual: false, shift: undefined });
  });
});
