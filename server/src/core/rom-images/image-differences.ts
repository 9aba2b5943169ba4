/**
 * How two images of what should be one chip's content differ.
 * Laws (test/property/rom-images.property.test.ts):
 * - an image does not differ from itself
 * - a single block that was changed is the one that differs
 */
import { findShift, type Shift } from './find-shift.ts';
import { blockBytes, fillOf } from './image-blocks.ts';

/** One of the two. */
export type Side = 'first' | 'second';

/** A block of 4 KiB in which two images differ. */
export interface BlockDifference {
  /** Its number, from 0. */
  readonly block: number;
  /** Bytes that differ. */
  readonly bytes: number;
  /** Bits that are 1 in the one image and 0 in the other. */
  readonly setIn: Readonly<Record<Side, number>>;
  /** The image that holds nothing in this block where the other holds something. */
  readonly blankIn: Side | undefined;
}

/** How two images differ. They are equal where `isEqual` says so; then everything else is empty. */
export interface ImageDifferences {
  readonly isEqual: boolean;
  /** Blocks that differ as far as both images go, in order. */
  readonly blocks: readonly BlockDifference[];
  /** The image that holds more bytes; undefined where both hold as many. */
  readonly longer: Side | undefined;
  /** Bytes of each group whose order is reversed in the other image, and nothing else differs. */
  readonly swapped: 2 | 4 | undefined;
  readonly shift: Shift | undefined;
}

/** Compares two images, as far as both go byte by byte. */
export function imageDifferences(first: Uint8Array, second: Uint8Array): ImageDifferences {
  const longer = first.length === second.length ? undefined : first.length > second.length ? 'first' : 'second';
  const blocks: BlockDifference[] = [];
  const common = Math.min(first.length, second.length);
  for (let start = 0; start < common; start += blockBytes) {
    const end = Math.min(common, start + blockBytes);
    const found = blockDifference(first.subarray(start, end), second.subarray(start, end));
    if (found) blocks.push({ block: start / blockBytes, ...found });
  }
  const isEqual = blocks.length === 0 && longer === undefined;
  const swapped = isEqual ? undefined : ([2, 4] as const).find((width) => isSwapped(first, second, width));
  const differing = blocks.reduce((sum, { bytes }) => sum + bytes, 0);
  const from = firstDifference(first, second, blocks);
  const shift = from === undefined || swapped ? undefined : findShift(first, second, { from, differing });
  return { isEqual, blocks, longer, swapped, shift };
}

/** Bits of each value of a byte that are 1. */
const ones = Uint8Array.from({ length: 256 }, (_, byte) => byte.toString(2).replaceAll('0', '').length);

function blockDifference(first: Uint8Array, second: Uint8Array): Omit<BlockDifference, 'block'> | undefined {
  let bytes = 0;
  let onlyFirst = 0;
  let onlySecond = 0;
  for (let at = 0; at < first.length; at++) {
    const one = first[at] ?? 0;
    const other = second[at] ?? 0;
    if (one === other) continue;
    bytes++;
    onlyFirst += ones[one & ~other] ?? 0;
    onlySecond += ones[other & ~one] ?? 0;
  }
  if (bytes === 0) return undefined;
  return { bytes, setIn: { first: onlyFirst, second: onlySecond }, blankIn: blankSide(first, second) };
}

/** Where both are blank in their own way neither is the one that holds nothing. */
function blankSide(first: Uint8Array, second: Uint8Array): Side | undefined {
  const isFirst = fillOf(first) !== undefined;
  if (isFirst === (fillOf(second) !== undefined)) return undefined;
  return isFirst ? 'first' : 'second';
}

function isSwapped(first: Uint8Array, second: Uint8Array, width: 2 | 4): boolean {
  if (first.length !== second.length || first.length % width !== 0) return false;
  for (let at = 0; at < first.length; at++) if (first[at] !== second[at ^ (width - 1)]) return false;
  return true;
}

function firstDifference(
  first: Uint8Array,
  second: Uint8Array,
  [block]: readonly BlockDifference[],
): number | undefined {
  if (!block) return undefined;
  let at = block.block * blockBytes;
  while (first[at] === second[at]) at++;
  return at;
}
