import { blockBytes } from './image-blocks.ts';

/** Longest sequence that counts as an answer a chip gives over and over, in bytes. */
const longestPattern = 16;

/**
 * The shortest sequence, of at most 16 bytes, that an image holds over and over and nothing else; undefined where it holds more. A chip
 * that was asked the wrong thing answers so. The image is at least four such sequences long.
 */
export function patternOf(bytes: Uint8Array): readonly number[] | undefined {
  for (let period = 1; period <= longestPattern && period * 4 <= bytes.length; period++) {
    if (hasPeriod(bytes, period)) return [...bytes.subarray(0, period)];
  }
  return undefined;
}

/** A part that an image holds several times in a row, and nothing else. */
export interface Repeats {
  readonly times: number;
  /** Bytes of the part. */
  readonly bytes: number;
}

/** How an image that is twice, four times … the same part divides; undefined where its halves differ, or are smaller than a block. */
export function repeatsOf(bytes: Uint8Array): Repeats | undefined {
  let times = 1;
  for (;;) {
    const half = bytes.length / times / 2;
    if (!Number.isInteger(half) || half < blockBytes || !hasPeriod(bytes.subarray(0, half * 2), half)) break;
    times *= 2;
  }
  return times === 1 ? undefined : { times, bytes: bytes.length / times };
}

function hasPeriod(bytes: Uint8Array, period: number): boolean {
  for (let at = period; at < bytes.length; at++) if (bytes[at] !== bytes[at - period]) return false;
  return true;
}
