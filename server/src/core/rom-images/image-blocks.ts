/**
 * An image in blocks of 4 KiB, the smallest part that flash chips erase: how even its bytes are, and whether anything is in it.
 * Laws (test/property/rom-images.property.test.ts):
 * - the entropy of a block lies between 0 and 8 bits and is that of its counted bytes
 */

/** Bytes of a block. Source: the usual erase sector of serial flash (from memory of data sheets). */
export const blockBytes = 4096;

/** What a blank chip is full of: erased flash reads as FFh, a line held low as 00h. */
export type Fill = 'ff' | '00';

/** A block; the last one of an image may be shorter than 4 KiB. */
export interface Block {
  /** Shannon entropy of its bytes, 0 to 8 bits a byte. */
  readonly entropy: number;
  /** What it is full of where it is blank. */
  readonly fill: Fill | undefined;
}

/** The blocks of an image, in order; none where it is empty. */
export function imageBlocks(bytes: Uint8Array): readonly Block[] {
  const blocks: Block[] = [];
  for (let start = 0; start < bytes.length; start += blockBytes) {
    blocks.push(blockOf(bytes.subarray(start, start + blockBytes)));
  }
  return blocks;
}

/** What a block is full of; undefined where it is not blank. */
export function fillOf(block: Uint8Array): Fill | undefined {
  const [first] = block;
  if (first !== 0xff && first !== 0) return undefined;
  for (let at = 1; at < block.length; at++) if (block[at] !== first) return undefined;
  return first === 0 ? '00' : 'ff';
}

function blockOf(block: Uint8Array): Block {
  const fill = fillOf(block);
  return { entropy: fill === undefined ? entropyOf(block) : 0, fill };
}

/** By count c of one byte in a block: c times the binary logarithm of c. A logarithm for each of 16,000 blocks takes ten times as long. */
const weights = Float64Array.from({ length: blockBytes + 1 }, (_, count) =>
  count === 0 ? 0 : count * Math.log2(count),
);

/** Source: Shannon 1948, "A Mathematical Theory of Communication", section 6. */
function entropyOf(block: Uint8Array): number {
  const counts = new Uint16Array(256);
  for (let at = 0; at < block.length; at++) {
    const byte = block[at] ?? 0;
    counts[byte] = (counts[byte] ?? 0) + 1;
  }
  let weight = 0;
  for (let byte = 0; byte < 256; byte++) weight += weights[counts[byte] ?? 0] ?? 0;
  // Rounding must not leave the range.
  return Math.min(8, Math.max(0, Math.log2(block.length) - weight / block.length));
}
